import { additiveModel } from '../../stats/linear/additive-model.ts';
import { type Factor, factorOf } from '../../stats/numbers/factor.ts';
import type { ScoreUnit } from './score-unit.ts';
import type { TastedScore } from './tasted-scores.ts';

/** Observations as rows: a value, and of what, at which sitting and by whom it was given. */
export interface ScoreLayout {
  readonly y: readonly number[];
  readonly subject: Factor;
  readonly sitting: Factor;
  /** Undefined where tasters are allowed for in `y` already. */
  readonly taster: Factor | undefined;
  /** Trees, and trees in a season, of plates; undefined where each score counts for itself. */
  readonly groups: { readonly tree: Factor; readonly stand: Factor } | undefined;
}

/** What scores are of: a cultivar or a tree. */
interface Scored {
  readonly scores: readonly TastedScore[];
}

/** The scores of some subjects, or what their plates come to, one after the other; level of a subject: its place. */
export function scoreLayout(subjects: readonly Scored[], unit: ScoreUnit): ScoreLayout {
  const rows = subjects.flatMap(({ scores }, subject) =>
    scores.map((one) => ({ ...one, subject })),
  );
  if (unit === 'plate') return plateLayout(rows, subjects.length);
  return {
    y: rows.map(({ score }) => score.value),
    subject: { levels: rows.map(({ subject }) => subject), count: subjects.length },
    taster: factorOf(rows.map(({ score }) => score.taster.key)),
    sitting: factorOf(rows.map(({ tasting }) => tasting)),
    groups: undefined,
  };
}

type Row = TastedScore & { readonly subject: number };

/**
 * A row a plate: the mean of its scores, each less what its taster marks above the others. How far tasters differ is
 * told from plates that they share, by least squares (score = plate + taster). Plates of tasters whom no plate joins
 * count as sittings of their own.
 */
function plateLayout(rows: readonly Row[], subjects: number): ScoreLayout {
  const taster = factorOf(rows.map(({ score }) => score.taster.key));
  const plate = factorOf(rows.map(({ score }) => score.sample));
  const { shift, panel } = tasterShifts(rows, taster, plate);
  const sums = new Float64Array(plate.count);
  const counts = new Float64Array(plate.count);
  const first = new Array<number>(plate.count).fill(-1);
  rows.forEach(({ score }, row) => {
    const at = plate.levels[row] ?? 0;
    sums[at] = (sums[at] ?? 0) + score.value - (shift[taster.levels[row] ?? 0] ?? 0);
    counts[at] = (counts[at] ?? 0) + 1;
    if (first[at] === -1) first[at] = row;
  });
  const firsts = first.flatMap((row) => rows[row] ?? []);
  return {
    y: Array.from(sums, (sum, at) => sum / (counts[at] ?? 1)),
    subject: { levels: firsts.map(({ subject }) => subject), count: subjects },
    taster: undefined,
    sitting: paired(
      factorOf(firsts.map(({ tasting }) => tasting)).levels,
      first.map((row) => panel[taster.levels[row] ?? 0] ?? 0),
    ),
    groups: {
      tree: factorOf(firsts.map(({ score }) => score.sample.tree)),
      stand: factorOf(
        firsts.map(({ score, tasting }) => `${score.sample.tree.id} ${tasting.season}`),
      ),
    },
  };
}

/** By taster: how far above the other tasters of the panel, that is of those whom plates join, and which panel. */
function tasterShifts(rows: readonly Row[], taster: Factor, plate: Factor) {
  const model = additiveModel({
    y: rows.map(({ score }) => score.value),
    treatment: taster.levels,
    treatments: taster.count,
    factors: [plate],
  });
  const shift = new Float64Array(taster.count);
  for (const { treatments, means } of model?.groups ?? []) {
    const middle = means.reduce((total, mean) => total + mean, 0) / means.length;
    treatments.forEach((each, place) => {
      shift[each] = (means[place] ?? middle) - middle;
    });
  }
  return { shift, panel: model?.groupOf ?? [] };
}

function paired(a: readonly number[], b: readonly number[]): Factor {
  return factorOf(a.map((level, row) => `${level} ${b[row]}`));
}
