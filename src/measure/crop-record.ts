import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import {
  type Count,
  DEFECTS,
  type Defects,
  type Drop,
  NO_DEFECTS,
  type Pick,
} from '../model/entries.ts';
import { type Cover, CROPS, type Crop, type Ledger, type Season } from '../model/ledger.ts';
import { siteOn } from '../model/standing.ts';
import { decimalSum } from '../stats/numbers/sum.ts';
import { branchesOf, type Load, loadOf, oldestFirst } from './load.ts';
import { type PickWeight, pickWeight } from './pick-weight.ts';
import { isSelected, type Selection } from './selection.ts';
import { total } from './total.ts';

/** All that was seen of one crop of one tree in one season. */
export interface CropRecord {
  readonly tree: Tree;
  readonly season: number;
  readonly crop: Crop;
  /**
   * Key of the site that the crop is told under: where the tree stood on the day of the count that
   * gave the load, else of its first pick or drop.
   */
  readonly site: string;
  readonly load: Load;
  /** Whether a count was made at all: without one the load may be too low. */
  readonly counted: boolean;
  readonly branches: number | undefined;
  /** Oldest first. */
  readonly picks: readonly Pick[];
  /** Fruit picked. */
  readonly picked: number;
  /** Fruit lost before picking. */
  readonly dropped: number;
  readonly defects: Defects;
  readonly weights: CropWeights;
}

/** What all picks of a crop tell of weight together; see `PickWeight`. */
export interface CropWeights extends Omit<PickWeight, 'source'> {
  /** Picks whose weight was stretched from a sample. */
  readonly stretchedPicks: number;
}

const recordsOf = new WeakMap<Ledger, readonly CropRecord[]>();

/**
 * A record for each tree, season and crop with a count, a pick or a drop: oldest season first,
 * then by tree, early before main.
 */
export function cropRecords(ledger: Ledger): readonly CropRecord[] {
  let records = recordsOf.get(ledger);
  if (records === undefined) {
    records = ledger.seasons.flatMap((season) => seasonRecords(ledger, season));
    recordsOf.set(ledger, records);
  }
  return records;
}

/** The records that a selection asks for. */
export function selectRecords(ledger: Ledger, selection: Selection): CropRecord[] {
  return cropRecords(ledger).filter((record) => isSelected(selection, record));
}

interface Seen {
  readonly counts: Count[];
  readonly picks: Pick[];
  readonly drops: Drop[];
}

function seasonRecords(ledger: Ledger, season: Season): CropRecord[] {
  const seen: SeenByTree = new Map();
  for (const count of season.counts) seenOf(seen, count).counts.push(count);
  for (const pick of season.picks) seenOf(seen, pick).picks.push(pick);
  for (const drop of season.drops) seenOf(seen, drop).drops.push(drop);

  const records: CropRecord[] = [];
  for (const tree of ledger.trees.values()) {
    const crops = seen.get(tree);
    if (crops === undefined) continue;
    const counts = [...crops.early.counts, ...crops.main.counts];
    for (const crop of CROPS) {
      const record = cropRecord(ledger, { tree, season: season.year, crop }, crops[crop], counts);
      if (record !== undefined) records.push(record);
    }
  }
  return records;
}

type SeenByTree = Map<Tree, Readonly<Record<Crop, Seen>>>;

function seenOf(
  seen: SeenByTree,
  { tree, crop }: { readonly tree: Tree; readonly crop: Crop },
): Seen {
  let crops = seen.get(tree);
  if (crops === undefined) {
    crops = { early: nothing(), main: nothing() };
    seen.set(tree, crops);
  }
  return crops[crop];
}

function nothing(): Seen {
  return { counts: [], picks: [], drops: [] };
}

function cropRecord(
  ledger: Ledger,
  { tree, season, crop }: { readonly tree: Tree; readonly season: number; readonly crop: Crop },
  { counts, picks, drops }: Seen,
  countsOfSeason: readonly Count[],
): CropRecord | undefined {
  const load = loadOf(counts, picks, drops);
  const day = load.from === 'count' ? load.count.on : firstDay([...picks, ...drops]);
  if (day === undefined) return undefined;
  return {
    tree,
    season,
    crop,
    site: siteOn(ledger, tree, day),
    load,
    counted: counts.length > 0,
    branches: branchesOf(load, counts, countsOfSeason),
    picks: oldestFirst(picks),
    picked: total(picks, (pick) => pick.fruit),
    dropped: total(drops, (drop) => drop.fruit),
    defects: defectsOf(picks),
    weights: weightsOf(picks),
  };
}

function firstDay(entries: readonly { readonly on: IsoDate }[]): IsoDate | undefined {
  return oldestFirst(entries)[0]?.on;
}

function defectsOf(picks: readonly Pick[]): Defects {
  const found = { ...NO_DEFECTS };
  for (const { defects } of picks) {
    for (const defect of DEFECTS) found[defect] += defects[defect];
  }
  return found;
}

function weightsOf(picks: readonly Pick[]): CropWeights {
  const counted: number[] = [];
  const totals: number[] = [];
  const onScales: number[] = [];
  const singles: number[] = [];
  let fruit = 0;
  let weighed = 0;
  let best = 0;
  let unknown = 0;
  let stretchedPicks = 0;
  for (const pick of picks) {
    const told = pickWeight(pick);
    counted.push(told.counted.weight);
    fruit += told.counted.fruit;
    for (const single of told.singles) singles.push(single);
    weighed += told.weighed;
    onScales.push(told.onScales);
    best += told.best;
    unknown += told.unknown;
    if (told.source === 'stretched') stretchedPicks++;
    if (told.total !== undefined) totals.push(told.total);
  }
  return {
    counted: { fruit, weight: decimalSum(counted) },
    singles,
    weighed,
    onScales: decimalSum(onScales),
    best,
    total: totals.length === picks.length ? decimalSum(totals) : undefined,
    unknown,
    stretchedPicks,
  };
}

/** The covers under which anything was seen, in the order of the ledger's sites. */
export function coversSeen(ledger: Ledger, selection: Selection): readonly Cover[] {
  const seen = new Set(selectRecords(ledger, selection).map(({ site }) => site));
  const sites = [...ledger.trial.sites.values()].filter(({ key }) => seen.has(key));
  return [...new Set(sites.map(({ cover }) => cover))];
}
