import { groupBy } from '../measure/group-by.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Taster } from '../model/entries.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { mean } from '../stats/describe/mean.ts';
import { competitionRanks } from '../stats/ranks/competition-ranks.ts';
import { friedmanChance } from '../stats/ranks/friedman-chance.ts';
import { kendallW } from '../stats/ranks/kendall-w.ts';
import { type OrderSheet, orderSheets } from './orders/order-sheets.ts';
import { commonPanel } from './orders/taster-agreement.ts';

/** The order of one crop's plates on a day, over all tasters. */
export interface DayOrder {
  /** Best first; places of equal plates are the same. */
  readonly places: ReadonlyMap<Tree, DayPlace>;
  /** Who put plates in order, or gave scores that do. */
  readonly tasters: readonly Taster[];
  /** Absent where fewer than two tasters put the same two plates or more in order. */
  readonly agreement: DayAgreement | undefined;
}

export interface DayPlace {
  /** From 1. */
  readonly place: number;
  /** Who had it first, alone or level with others. */
  readonly firstFor: readonly Taster[];
  /** Who had it first and alone. */
  readonly aloneFor: readonly Taster[];
}

export interface DayAgreement {
  /** How many tasters put how many of the same plates in order. */
  readonly tasters: number;
  readonly plates: number;
  /** Kendall's coefficient of concordance, corrected for ties: 0 none, 1 full. */
  readonly w: number;
  /** The chance of so much agreement among tasters who order at random. */
  readonly chance: number;
}

/** Means of places closer than this are equal. */
const SAME = 1e-9;

/**
 * The order of what was tasted ripe, by the mean over the tasters of where each put it: (place -
 * 1/2) / plates, equal plates sharing the mean of their places. Where all ordered everything that
 * is the order of the rank sums (ISO 8587:2006, Sensory analysis - Ranking). A taster without an
 * order counts by the order that the scores imply. Undefined where nobody put two plates in order.
 */
export function dayOrder(
  ledger: Ledger,
  season: number,
  crop: Crop,
  on: IsoDate,
): DayOrder | undefined {
  const sheets = orderSheets(ledger, { seasons: [season], crops: [crop] }, 'both').filter(
    ({ tasting }) => tasting.on === on,
  );
  if (sheets.length === 0) return undefined;
  const shares = new Map<Tree, number[]>();
  for (const { ranks } of sheets) {
    const plates = ranks.flat().length;
    let before = 0;
    for (const rank of ranks) {
      const share = (before + rank.length / 2) / plates;
      for (const { tree } of rank) shares.set(tree, [...(shares.get(tree) ?? []), share]);
      before += rank.length;
    }
  }
  const trees = [...shares.keys()];
  const means = trees.map((tree) => Math.round((mean(shares.get(tree) ?? []) ?? 0) / SAME));
  const ranks = competitionRanks(means.map((one) => -one));
  return {
    places: new Map(
      trees
        .map((tree, at) => [tree, placeOf(tree, ranks[at] ?? trees.length, sheets)] as const)
        .toSorted(([, a], [, b]) => a.place - b.place),
    ),
    tasters: [...new Set(sheets.map(({ taster }) => taster))],
    agreement: agreementOf(sheets),
  };
}

function placeOf(tree: Tree, place: number, sheets: readonly OrderSheet[]): DayPlace {
  const first = sheets.filter(({ ranks }) => ranks[0]?.some((sample) => sample.tree === tree));
  const alone = first.filter(({ ranks }) => ranks[0]?.length === 1);
  return {
    place,
    firstFor: [...new Set(first.map(({ taster }) => taster))],
    aloneFor: [...new Set(alone.map(({ taster }) => taster))],
  };
}

/** Of the sitting that most took part in: other plates on another table tell nothing of these. */
function agreementOf(sheets: readonly OrderSheet[]): DayAgreement | undefined {
  const [most = []] = [...groupBy(sheets, ({ tasting }) => tasting).values()].toSorted(
    (a, b) => b.length - a.length,
  );
  const panel = commonPanel(most, 2);
  if (panel === undefined) return undefined;
  const places = panel.map((one) => one.places);
  const [found, chance] = [kendallW(places), friedmanChance(places)];
  if (found === undefined || chance === undefined) return undefined;
  return { tasters: places.length, plates: places[0]?.length ?? 0, w: found.w, chance };
}
