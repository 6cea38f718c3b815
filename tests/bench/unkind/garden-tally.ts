import { scores } from '../../../src/index.ts';
import { pairComparer } from '../../../src/judge/compare/compare-cultivars.ts';
import { type CropRanking, rankCrops } from '../../../src/judge/index/rank.ts';
import { RANK_SEED } from '../../../src/judge/index/simulation.ts';
import { type Judgement, judgeRankings } from '../../../src/judge/verdict/verdict.ts';
import type { Cultivar } from '../../../src/model/collection.ts';
import type { Ledger } from '../../../src/model/ledger.ts';
import { kendallTauB } from '../../support/kendall-tau-b.ts';
import { ledgerFrom } from '../../support/ledger-from.ts';
import { INDEX_BANDS, onBand, weighted } from '../index-rule.ts';
import { chance } from './chance.ts';
import { GARDEN_TRAITS, type Garden, garden, upTo } from './garden.ts';
import type { GardenKind } from './garden-kinds.ts';
import { gardenFiles, type SeasonRecord, writeSeason } from './garden-records.ts';
import { type TrueCultivar, trueGarden } from './garden-truth.ts';

/** Nominal level of the intervals, percent. */
export const CONFIDENCE = 90;

/** Sums over trials; a list has one value a trial, from which standard errors come. */
export interface GardenTally {
  /** Share of index intervals that hold the truth, a trial. */
  readonly cover: number[];
  /** The same once the trial's common shift of all cultivars is taken out. */
  readonly relative: number[];
  readonly newTree: number[];
  readonly rankCover: number[];
  readonly width: number[];
  readonly tau: number[];
  readonly tauPlain: number[];
  readonly squares: number[];
  /** By row of `compare`: shares a trial, over its pairs. */
  readonly compared: Map<string, number[]>;
  /** Of the truly best third: how many, and how many were discarded. */
  best: number;
  bestDiscarded: number;
  discarded: number;
  wronglyDiscarded: number;
  increased: number;
  wronglyIncreased: number;
}

/** A garden, what was written down in it, and the ledger that this makes. */
export interface Grown {
  readonly garden: Garden;
  readonly truth: readonly TrueCultivar[];
  readonly seasons: readonly SeasonRecord[];
  readonly ledger: Ledger;
  readonly marks: { readonly increase_above: number; readonly discard_below: number };
}

/** Grows a garden and keeps its ledger. Verdicts have the true 75th and 30th percentile for marks. */
export function grow(kind: GardenKind, seed: number): Grown {
  const grown = garden(kind, seed);
  const luck = chance(seed + 0.5 * 2 ** 31);
  const truth = trueGarden(grown, luck);
  const seasons = upTo(kind.seasons).map((season) => writeSeason(grown, season, luck));
  const sorted = truth.map(({ index }) => index).toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.round(share * (sorted.length - 1))] ?? 0;
  // With equal cultivars the two marks would fall together.
  const marks = { increase_above: Math.max(at(0.75), at(0.3) + 0.01), discard_below: at(0.3) };
  const ledger = ledgerFrom(gardenFiles(grown, seasons, marks));
  return { garden: grown, truth, seasons, ledger, marks };
}

export async function gardenTally(
  kind: GardenKind,
  trials: number,
  firstSeed: number,
): Promise<GardenTally> {
  const tally = emptyTally();
  for (let trial = 0; trial < trials; trial++) await addGarden(tally, kind, firstSeed + trial);
  return tally;
}

export function emptyTally(): GardenTally {
  return {
    cover: [],
    relative: [],
    newTree: [],
    rankCover: [],
    width: [],
    tau: [],
    tauPlain: [],
    squares: [],
    compared: new Map(),
    best: 0,
    bestDiscarded: 0,
    discarded: 0,
    wronglyDiscarded: 0,
    increased: 0,
    wronglyIncreased: 0,
  };
}

/** Adds the gardens of one tally to another. */
export function addTally(all: GardenTally, own: GardenTally): void {
  for (const key of LISTS) all[key].push(...own[key]);
  for (const [part, shares] of own.compared) {
    all.compared.set(part, [...(all.compared.get(part) ?? []), ...shares]);
  }
  for (const key of COUNTS) all[key] += own[key];
}

const LISTS = [
  'cover',
  'relative',
  'newTree',
  'rankCover',
  'width',
  'tau',
  'tauPlain',
  'squares',
] as const;
const COUNTS = [
  'best',
  'bestDiscarded',
  'discarded',
  'wronglyDiscarded',
  'increased',
  'wronglyIncreased',
] as const;

/** One more garden, everything drawn once for rank and verdict. */
export async function addGarden(tally: GardenTally, kind: GardenKind, seed: number): Promise<void> {
  const grown = grow(kind, seed);
  const rankings = rankCrops(grown.ledger, {}, OPTIONS);
  addRank(tally, grown, rankings);
  addVerdicts(tally, grown, judgeRankings(grown.ledger, rankings));
  addCompare(tally.compared, grown);
}

const OPTIONS = { confidence: CONFIDENCE / 100, top: 3, seed: RANK_SEED };

/** Which of the made-up cultivars it is. */
export function numberOf({ name }: Cultivar): number {
  return Number(name.split(' ').at(-1));
}

function addRank(
  tally: GardenTally,
  { truth, seasons, garden: own }: Grown,
  rankings: readonly CropRanking[],
): void {
  const told = rankings
    .flatMap(({ ranked }) => ranked)
    .map((one) => ({ ...one, at: numberOf(one.cultivar) }));
  const trueIndex = told.map(({ at }) => truth[at]?.index ?? Number.NaN);
  const shift = mean(told.map(({ index }, k) => index - (trueIndex[k] ?? 0)));
  const descending = trueIndex.toSorted((a, b) => b - a);
  tally.cover.push(share(told, ({ low, high }, k) => within(trueIndex[k], low, high)));
  tally.relative.push(
    share(told, ({ low, high }, k) => within((trueIndex[k] ?? 0) + shift, low, high)),
  );
  tally.rankCover.push(
    share(told, ({ rankLow, rankHigh }, k) =>
      within(1 + descending.indexOf(trueIndex[k] ?? 0), rankLow, rankHigh),
    ),
  );
  const newTrees = told.flatMap(({ at, newLow, newHigh }) =>
    (truth[at]?.newTrees ?? []).map((one) => within(one, newLow, newHigh)),
  );
  if (newTrees.length > 0) tally.newTree.push(share(newTrees, (one) => one));
  tally.width.push(mean(told.map(({ low, high }) => high - low)));
  tally.squares.push(mean(told.map(({ index }, k) => (index - (trueIndex[k] ?? 0)) ** 2)));
  tally.tau.push(
    tauB(
      trueIndex,
      told.map(({ index }) => index),
    ),
  );
  const plain = plainIndex(own, seasons);
  tally.tauPlain.push(
    tauB(
      trueIndex,
      told.map(({ at }) => plain[at] ?? 0),
    ),
  );
}

/** Every cultivar against the one half a round further. */
export function addCompare(
  compared: Map<string, number[]>,
  { ledger, truth, garden: own }: Pick<Grown, 'ledger' | 'truth' | 'garden'>,
): void {
  const cultivars = [...ledger.cultivars.values()];
  const count = own.cultivars.length;
  const compare = pairComparer(ledger, {}, { crop: 'main', confidence: CONFIDENCE / 100 });
  const held = new Map<string, boolean[]>();
  for (const a of upTo(count)) {
    const b = (a + Math.floor(count / 2)) % count;
    const [one, other] = [cultivars[a], cultivars[b]];
    if (one === undefined || other === undefined) continue;
    for (const { part, low, high } of compare([one, other])) {
      const key = part.kind === 'trait' ? part.trait : part.kind;
      const difference = trueDifference(truth[a], truth[b], key);
      if (low === undefined || high === undefined || difference === undefined) continue;
      held.set(key, [...(held.get(key) ?? []), within(difference, low, high)]);
    }
  }
  for (const [part, values] of held) {
    compared.set(part, [...(compared.get(part) ?? []), share(values, (one) => one)]);
  }
}

function trueDifference(
  a: TrueCultivar | undefined,
  b: TrueCultivar | undefined,
  part: string,
): number | undefined {
  if (a === undefined || b === undefined) return undefined;
  if (part === 'index') return a.index - b.index;
  const [own, other] = [a.figures, b.figures].map(
    (figures) => (figures as Readonly<Record<string, number>>)[part],
  );
  if (own === undefined || other === undefined) return undefined;
  return own - other;
}

function addVerdicts(
  tally: GardenTally,
  { truth, marks }: Grown,
  judgements: readonly Judgement[],
): void {
  const third = truth.map(({ index }) => index).toSorted((a, b) => b - a)[
    Math.floor(truth.length / 3) - 1
  ];
  for (const row of judgements) {
    const index = truth[numberOf(row.cultivar)]?.index ?? Number.NaN;
    const isBest = index >= (third ?? Number.POSITIVE_INFINITY);
    if (isBest) tally.best++;
    if (row.verdict === 'discard') {
      tally.discarded++;
      if (isBest) tally.bestDiscarded++;
      if (index > marks.discard_below) tally.wronglyDiscarded++;
    }
    if (row.verdict === 'increase') {
      tally.increased++;
      if (index < marks.increase_above) tally.wronglyIncreased++;
    }
  }
}

/** Tables of `scores` with all cultivars equal: in how many some are told apart, by letters and by F. */
export async function equalTally(
  kind: GardenKind,
  trials: number,
  firstSeed: number,
): Promise<{ readonly tables: number; readonly byLetters: number; readonly byF: number }> {
  let [tables, byLetters, byF] = [0, 0, 0];
  for (let trial = 0; trial < trials; trial++) {
    const { ledger } = grow(kind, firstSeed + trial);
    for (const trait of GARDEN_TRAITS) {
      const { rows, notes } = await scores(ledger, { trait });
      tables++;
      const letters = (rows as unknown as { letters: string | null }[]).map(
        (row) => row.letters ?? '',
      );
      const shares = (a: string, b: string) => [...a].some((letter) => b.includes(letter));
      const apart = letters.some((a) => letters.some((b) => a !== '' && b !== '' && !shares(a, b)));
      if (apart) byLetters++;
      if (notes.some(({ text }) => text.includes('differ beyond chance'))) byF++;
    }
  }
  return { tables, byLetters, byF };
}

/** Averages of all that was written down, as one would do by hand, on the bands and by the weights. */
function plainIndex(own: Garden, seasons: readonly SeasonRecord[]): number[] {
  return upTo(own.cultivars.length).map((cultivar) => {
    const trees = new Set(
      own.trees.filter((tree) => tree.cultivar === cultivar).map(({ id }) => id),
    );
    const of = <Entry extends { tree: string }>(entries: readonly object[]) =>
      (entries as readonly Entry[]).filter(({ tree }) => trees.has(tree));
    const counts = seasons.flatMap(({ counts }) =>
      of<{ tree: string; fruit: number; branches: number }>(counts),
    );
    const picks = seasons.flatMap(({ picks }) =>
      of<{ tree: string; fruit: number; weights: number[]; split: number }>(picks),
    );
    const marks = seasons.flatMap(({ tastings }) =>
      (tastings as { scores: Record<string, Record<string, Record<string, number>>> }[]).flatMap(
        (one) =>
          Object.values(one.scores).flatMap((sheet) =>
            Object.entries(sheet).flatMap(([tree, given]) => (trees.has(tree) ? [given] : [])),
          ),
      ),
    );
    const ratio = (of: readonly number[], by: readonly number[]) => sum(of) / Math.max(1, sum(by));
    const weights = picks.flatMap((pick) => pick.weights);
    return weighted({
      flavour: mean(marks.map(({ flavour = 0 }) => flavour)),
      sweetness: mean(marks.map(({ sweetness = 0 }) => sweetness)),
      productivity: onBand(
        INDEX_BANDS.productivity,
        ratio(
          counts.map(({ fruit }) => fruit),
          counts.map(({ branches }) => branches),
        ),
      ),
      size: onBand(INDEX_BANDS.size, weights.length > 0 ? mean(weights) : 0),
      soundness: onBand(
        INDEX_BANDS.soundness,
        1 -
          ratio(
            picks.map(({ split }) => split),
            picks.map(({ fruit }) => fruit),
          ),
      ),
    });
  });
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const mean = (values: readonly number[]) => (values.length === 0 ? 0 : sum(values) / values.length);
const within = (value: number | undefined, low: number, high: number) =>
  value !== undefined && low <= value && value <= high;
function share<Item>(items: readonly Item[], holds: (item: Item, at: number) => boolean): number {
  return items.filter(holds).length / items.length;
}
const tauB = (a: readonly number[], b: readonly number[]) => kendallTauB(a, b)?.coefficient ?? 0;
