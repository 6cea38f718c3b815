import { groupBy } from '../../measure/group-by.ts';
import type { Sample, Taster } from '../../model/entries.ts';
import type { Crop } from '../../model/ledger.ts';
import { mean } from '../../stats/describe/mean.ts';
import {
  type AgreementEstimate,
  intraclassCorrelation,
} from '../../stats/linear/intraclass-correlation.ts';
import { completeBlock } from '../stability/complete-block.ts';
import type { ScoreModel } from './score-models.ts';
import type { TastedScore } from './tasted-scores.ts';

/** How far the tasters of a crop see the same in a plate. */
export interface ScoreAgreement {
  readonly crop: Crop;
  /** All of them scored all the plates. */
  readonly tasters: readonly Taster[];
  readonly plates: number;
  /** What a taster's mark of a plate is the mean of. */
  readonly traits: readonly string[];
  /** Share of the spread of one taster's marks that is the plate's: ICC(2,1). */
  readonly one: AgreementEstimate;
  /** The same for the mean over these tasters: ICC(2,k). */
  readonly mean: AgreementEstimate;
  /** The same as `one` if harshness is allowed for: ICC(3,1). */
  readonly fair: AgreementEstimate;
}

/** Fewer plates than this say nothing of agreement. */
const LEAST_PLATES = 5;

/**
 * Agreement on scores crop by crop (Shrout & Fleiss 1979; see `intraclassCorrelation`), on the
 * largest set of plates that the same three tasters or more all scored, else the same two.
 *
 * A taster's mark of a plate is the mean over those traits that at least half of all tasters and
 * plates have a score for; who left one of them out has no mark of that plate.
 *
 * @param models of the crops and traits to look at
 * @param confidence a fraction, such as 0.95
 */
export function scoreAgreement(
  models: readonly ScoreModel[],
  confidence: number,
): readonly ScoreAgreement[] {
  return [...groupBy(models, ({ crop }) => crop)].flatMap(([crop, own]) => {
    const scores = own.flatMap(({ subjects }) => subjects).flatMap((one) => one.scores);
    const traits = usualTraits(scores);
    const { tasters, marks } = markTable(scores, traits);
    const has = marks.map((row) => row.map((mark) => mark !== undefined));
    const block = completeBlock(has, LEAST_PLATES, 3) ?? completeBlock(has, LEAST_PLATES, 2);
    if (block === undefined) return [];
    const table = block.rows.map((row) => block.columns.map((at) => marks[row]?.[at] ?? 0));
    const found = intraclassCorrelation(table, confidence);
    if (found === undefined) return [];
    const panel = block.columns.flatMap((at) => tasters[at] ?? []);
    const { single, average } = found;
    return [
      {
        crop,
        tasters: panel,
        plates: table.length,
        traits,
        one: single.twoWayRandom,
        mean: average.twoWayRandom,
        fair: single.twoWayFixed,
      },
    ];
  });
}

/** Traits that at least half of all pairs of taster and plate have a score for. */
function usualTraits(scores: readonly TastedScore[]): string[] {
  const pairs = new Map<Sample, Set<Taster>>();
  for (const { score } of scores) {
    const tasters = pairs.get(score.sample) ?? new Set();
    pairs.set(score.sample, tasters.add(score.taster));
  }
  const all = [...pairs.values()].reduce((total, { size }) => total + size, 0);
  return [...groupBy(scores, ({ score }) => score.trait)]
    .filter(([, own]) => 2 * own.length >= all)
    .map(([trait]) => trait);
}

/** By plate and taster, the mean over the traits; undefined where one is missing. */
function markTable(scores: readonly TastedScore[], traits: readonly string[]) {
  const counted = scores.filter(({ score }) => traits.includes(score.trait));
  const tasters = [...new Set(counted.map(({ score }) => score.taster))];
  const plates = [...groupBy(counted, ({ score }) => score.sample).values()];
  const marks = plates.map((plate) =>
    tasters.map((taster) => {
      const own = plate.filter(({ score }) => score.taster === taster);
      return own.length < traits.length ? undefined : mean(own.map(({ score }) => score.value));
    }),
  );
  return { tasters, marks };
}
