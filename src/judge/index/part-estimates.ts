import type { Ledger, MeasuredPart } from '../../model/ledger.ts';
import { meanOfDraws } from '../../stats/mixed/mean-of-draws.ts';
import { lengthForMeans } from './chain-length.ts';
import { type DrawnView, drawIndex } from './draw-index.ts';
import { traitMeans } from './draw-traits.ts';
import { type GatheredTrial, weighedParts } from './gather-trial.ts';
import { partsSeen } from './parts-seen.ts';

/** By weighted part, the mean of its draws on the ledger's scale by item. */
export type PartEstimates = ReadonlyMap<string, readonly (number | undefined)[]>;

/** Draws that are asked for twice are not averaged twice, which takes a chain of its own. */
const known = new WeakMap<DrawnView, PartEstimates>();

/** The parts of the index; empty where nothing can be ranked. */
export function partEstimates(
  ledger: Ledger,
  trial: GatheredTrial,
  view: DrawnView | undefined,
  seed: number,
): PartEstimates {
  if (view === undefined) return new Map();
  const estimates = known.get(view) ?? estimatesOf(ledger, trial, view, seed);
  known.set(view, estimates);
  return estimates;
}

function estimatesOf(
  ledger: Ledger,
  trial: GatheredTrial,
  view: DrawnView,
  seed: number,
): PartEstimates {
  const means = new Map(
    view.parts.map(({ part, items }) => [part, items.map((draws) => draws && meanOfDraws(draws))]),
  );
  const traits = withTraitsApart(
    trial,
    traitMeans(trial, means.get('taste') ?? [], seed + 1),
    seed,
  );
  return new Map(
    weighedParts(ledger).map(([part]) => {
      const trait = trial.traits.findIndex(({ key }) => key === part);
      const own = trait < 0 ? means.get(part as MeasuredPart) : traits[trait];
      return [part, trial.cultivars.map((_, item) => own?.[item])];
    }),
  );
}

/** Means by trait and item, those added of traits that were scored of an item that lacks others. */
function withTraitsApart(
  trial: GatheredTrial,
  means: readonly (readonly (number | undefined)[])[],
  seed: number,
): readonly (readonly (number | undefined)[])[] {
  const seen = partsSeen(trial);
  const isLeft = trial.traits.some(({ key }, at) =>
    seen.some((own, item) => own.has(key) && means[at]?.[item] === undefined),
  );
  if (!isLeft) return means;
  const options = { seed: seed + 2, apart: true, length: lengthForMeans };
  const apart = drawIndex({ ...trial, measured: [] }, options)?.views[0]?.parts ?? [];
  return trial.traits.map(({ key }, at) => {
    const own = apart.find(({ part }) => part === key)?.figures;
    return trial.cultivars.map((_, item) => {
      const draws = own?.[item];
      return means[at]?.[item] ?? (draws && meanOfDraws(draws));
    });
  });
}
