import { rank } from '../../../src/index.ts';
import { lineup } from '../../../src/judge/lineup/lineup.ts';
import { parseIsoDate } from '../../../src/model/dates.ts';
import { kendallTauB } from '../../support/kendall-tau-b.ts';
import { ledgerFrom } from '../../support/ledger-from.ts';
import { type Chance, chance } from './chance.ts';
import { type Garden, type GardenTree, garden, upTo } from './garden.ts';
import type { GardenKind } from './garden-kinds.ts';
import {
  cultivarKey,
  eveningDate,
  gardenFiles,
  type SeasonRecord,
  sitting,
  writeSeason,
} from './garden-records.ts';
import { trueGarden } from './garden-truth.ts';

/**
 * What four sittings are worth by who chose what was tasted: `lineup`, chance, or whoever was tasted least. One past
 * season with two sittings, so some were never tasted; then four sittings in the second season, ranked afterwards.
 *
 * Usage: node .build/script.mjs tests/bench/unkind/calibrate-lineups.ts [trials] [first seed]
 */
const [trials = '20', firstSeed = '500000'] = process.argv.slice(2);

const KIND: GardenKind = {
  name: 'next tastings',
  cultivars: 15,
  seasons: 2,
  tasters: 3,
  sites: 2,
  secondTree: 0.4,
};
const PLATES = 5;
const PAST_SITTINGS = 2;

const RULES = ['lineup', 'random', 'least tasted'] as const;
type Rule = (typeof RULES)[number];

interface Worth {
  readonly tau: number;
  readonly tauUpperHalf: number;
  readonly regretLeader: number;
  readonly regretTop3: number;
}

const MEASURES = ['tau', 'tauUpperHalf', 'regretLeader', 'regretTop3'] as const;

/** A garden with its past, to which sittings are added. */
interface Start {
  readonly own: Garden;
  readonly past: SeasonRecord;
  readonly now: SeasonRecord;
}

function ledgerOf({ own, past, now }: Start, tastings: readonly object[]) {
  const seasons = [past, { ...now, tastings: [...tastings] }];
  return ledgerFrom(gardenFiles(own, seasons, { increase_above: 7, discard_below: 5 }));
}

async function worthOf(rule: Rule, start: Start, truth: readonly number[], seed: number) {
  const luck = chance(seed);
  const tastings: object[] = [];
  for (const [at, { season }] of start.own.evenings.entries()) {
    if (season !== 1) continue;
    const served = choice(rule, start, tastings, at, luck);
    tastings.push(sitting(start.own, at, served, luck));
  }
  const { rows } = await rank(ledgerOf(start, tastings));
  return judged(truth, rows as unknown as { cultivar: string; index: number | null }[]);
}

function choice(
  rule: Rule,
  start: Start,
  tastings: readonly object[],
  evening: number,
  luck: Chance,
): readonly GardenTree[] {
  const { own } = start;
  const treesOf = (cultivar: number) => own.trees.filter((tree) => tree.cultivar === cultivar);
  if (rule === 'lineup') {
    const ledger = ledgerOf(start, tastings);
    const { samples } = lineup(ledger, {
      on: parseIsoDate(eveningDate(own, evening)) ?? raise('no date'),
      crop: 'main',
      samples: PLATES,
      tasters: [...ledger.trial.tasters.values()],
      candidates: upTo(KIND.cultivars).map(cultivarKey),
      seed: 1,
    });
    return samples.map(({ tree }) => own.trees.find(({ id }) => id === tree.id) ?? raise(tree.id));
  }
  const all = luck.shuffled(upTo(KIND.cultivars));
  const seen = [...start.past.tastings, ...tastings].flatMap(
    (one) => (one as { samples: { tree: string }[] }).samples,
  );
  const times = (cultivar: number) => {
    const ids = new Set(treesOf(cultivar).map(({ id }) => id));
    return seen.filter(({ tree }) => ids.has(tree)).length;
  };
  const order = rule === 'random' ? all : all.toSorted((a, b) => times(a) - times(b));
  return order.slice(0, PLATES).map((cultivar) => {
    const trees = treesOf(cultivar);
    return trees[luck.below(trees.length)] ?? raise(`no tree of ${cultivar}`);
  });
}

function raise(what: string): never {
  throw new Error(what);
}

/** One that was never tasted has no rank; it is taken to stand in the middle of those that have. */
function judged(
  truth: readonly number[],
  rows: readonly { cultivar: string; index: number | null }[],
): Worth {
  const told = new Map(rows.map((row) => [Number(row.cultivar.split(' ').at(-1)), row.index]));
  const known = [...told.values()].filter((index) => index !== null);
  const found = truth.map((_, at) => told.get(at) ?? mean(known));
  const best = upTo(truth.length).toSorted((a, b) => (truth[b] ?? 0) - (truth[a] ?? 0));
  const named = upTo(truth.length).toSorted((a, b) => (found[b] ?? 0) - (found[a] ?? 0));
  const upper = best.slice(0, Math.ceil(best.length / 2));
  const of = (values: readonly number[], places: readonly number[]) =>
    places.map((at) => values[at] ?? 0);
  const regret = (count: number) =>
    mean(of(truth, best.slice(0, count))) - mean(of(truth, named.slice(0, count)));
  return {
    tau: kendallTauB(truth, found)?.coefficient ?? 0,
    tauUpperHalf: kendallTauB(of(truth, upper), of(found, upper))?.coefficient ?? 0,
    regretLeader: regret(1),
    regretTop3: regret(3),
  };
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function standardError(values: readonly number[]): number {
  const middle = mean(values);
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
}

const worths: Record<Rule, Worth[]> = { lineup: [], random: [], 'least tasted': [] };
for (let trial = 0; trial < Number(trials); trial++) {
  const seed = Number(firstSeed) + trial;
  const own = garden(KIND, seed);
  const luck = chance(seed + 0.5 * 2 ** 31);
  const truth = trueGarden(own, luck).map(({ index }) => index);
  const [first, now] = [writeSeason(own, 0, luck), writeSeason(own, 1, luck)];
  const past = { ...first, tastings: first.tastings.slice(0, PAST_SITTINGS) };
  for (const rule of RULES) {
    worths[rule].push(await worthOf(rule, { own, past, now }, truth, seed + 0.75 * 2 ** 31));
  }
}

console.log(`Four sittings of ${PLATES} among ${KIND.cultivars}: ${trials} trials, se behind ±.\n`);
console.log('| chosen by | tau | tau, upper half | regret of the leader | regret of the top 3 |');
console.log('|---|---|---|---|---|');
for (const rule of RULES) {
  const cells = MEASURES.map((key) => mean(worths[rule].map((one) => one[key])).toFixed(3));
  console.log(`| ${[rule, ...cells].join(' | ')} |`);
}
for (const other of ['random', 'least tasted'] as const) {
  const cells = MEASURES.map((key) => {
    const apart = worths.lineup.map((one, at) => one[key] - (worths[other][at]?.[key] ?? 0));
    return `${mean(apart).toFixed(3)} ± ${standardError(apart).toFixed(3)}`;
  });
  console.log(`| ${[`lineup - ${other}`, ...cells].join(' | ')} |`);
}
