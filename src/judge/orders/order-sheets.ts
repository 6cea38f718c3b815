import { groupBy } from '../../measure/group-by.ts';
import { allows } from '../../measure/selection.ts';
import type { Order, Sample, Score, Taster, Tasting } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { mean } from '../../stats/describe/mean.ts';
import type { TastedSelection } from '../scores/tasted-scores.ts';

/** Where orders are taken from; `both`: a taster's order where there is one, else the scores. */
export const ORDER_SOURCES = ['orders', 'scores', 'both'] as const;
export type OrderSource = (typeof ORDER_SOURCES)[number];

/** One taster's best-first order of a crop's plates at one sitting. */
export interface OrderSheet {
  readonly crop: Crop;
  readonly tasting: Tasting;
  readonly taster: Taster;
  readonly from: 'order' | 'scores';
  /** Plates in the same list are tied. */
  readonly ranks: readonly (readonly Sample[])[];
}

/**
 * Every order of the selection that puts two plates or more of one crop in order, in the order of
 * the files. A sitting that has both crops gives an order for each; plates that the selection does
 * not ask for are taken out, and the rest keeps its order. Cultivars are not cut out, as an order
 * among all says more of each.
 */
export function orderSheets(
  ledger: Ledger,
  selection: TastedSelection,
  source: OrderSource,
): readonly OrderSheet[] {
  return ledger.seasons
    .filter(({ year }) => allows(selection.seasons, year))
    .flatMap(({ tastings }) => tastings)
    .flatMap((tasting) => {
      const isIn = (sample: Sample) => isAskedFor(ledger, selection, tasting, sample);
      return CROPS.flatMap((crop) =>
        sittingSheets(tasting, crop, source, (sample) => sample.crop === crop && isIn(sample)),
      );
    })
    .filter(({ ranks }) => ranks.flat().length > 1);
}

function isAskedFor(
  ledger: Ledger,
  { ripeness = ['ripe'], crops, trees, sites }: TastedSelection,
  tasting: Tasting,
  { ripeness: state, crop, tree }: Sample,
): boolean {
  return (
    ripeness.includes(state ?? 'ripe') &&
    allows(crops, crop) &&
    allows(trees, tree.id) &&
    allows(sites, siteOn(ledger, tree, tasting.on))
  );
}

function sittingSheets(
  tasting: Tasting,
  crop: Crop,
  source: OrderSource,
  isIn: (sample: Sample) => boolean,
): OrderSheet[] {
  const orders = new Map(tasting.orders.map((order) => [order.taster.key, order]));
  const scores = groupBy(
    tasting.scores.filter(({ sample }) => isIn(sample)),
    ({ taster }) => taster.key,
  );
  const tasters = new Map(
    [...tasting.orders, ...tasting.scores].map(({ taster }) => [taster.key, taster]),
  );
  return [...tasters].flatMap(([key, taster]): OrderSheet[] => {
    const order = source === 'scores' ? [] : keptRanks(orders.get(key), isIn);
    if (order.length > 0) return [{ crop, tasting, taster, from: 'order', ranks: order }];
    if (source === 'orders') return [];
    return [{ crop, tasting, taster, from: 'scores', ranks: impliedRanks(scores.get(key) ?? []) }];
  });
}

function keptRanks(order: Order | undefined, isIn: (sample: Sample) => boolean): Sample[][] {
  return (order?.ranks ?? []).map((rank) => rank.filter(isIn)).filter((rank) => rank.length > 0);
}

/** Means closer than this are equal: sums of decimals differ by less. */
const SAME = 1e-9;

/**
 * The order that a taster's scores imply: by the mean over the traits that were scored of every
 * plate, equal means being a tie. Empty where no trait was scored of all.
 */
function impliedRanks(scores: readonly Score[]): Sample[][] {
  const plates = groupBy(scores, ({ sample }) => sample);
  const traits = [...groupBy(scores, ({ trait }) => trait)]
    .filter(([, own]) => own.length === plates.size)
    .map(([trait]) => trait);
  if (traits.length === 0) return [];
  const means = [...plates].map(([sample, own]) => ({
    sample,
    mean: mean(own.filter(({ trait }) => traits.includes(trait)).map(({ value }) => value)) ?? 0,
  }));
  const ranks: { mean: number; samples: Sample[] }[] = [];
  for (const { sample, mean } of means.toSorted((a, b) => b.mean - a.mean)) {
    const last = ranks.at(-1);
    if (last !== undefined && last.mean - mean < SAME) last.samples.push(sample);
    else ranks.push({ mean, samples: [sample] });
  }
  return ranks.map(({ samples }) => samples);
}
