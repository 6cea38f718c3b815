// The spread that trees of all cultivars share, against the residual mean squares of published layouts: plants of
// Dobson 1983 (PlantGrowth in R), one way; and peas of the Imperial College experiment (npk, Venables & Ripley 2002,
// Modern Applied Statistics with S), whose blocks stand for sites.
import { describe, expect, it } from 'vitest';
import { cropRecords } from '../../src/measure/crop-record.ts';
import { sharedSpreads } from '../../src/measure/shared-spread.ts';
import { WEIGHT_FIGURE } from '../../src/measure/weight-figures.ts';
import { buildLedger } from '../support/build-ledger.ts';
import { runJson } from '../support/run-json.ts';
import { expectAgreement } from './agreement.ts';
import { toFields, toNumbers } from './narrow.ts';
import { readReference } from './read-reference.ts';

/** A tree a row, whose one fruit weighs e to the value. */
function trees(values: readonly number[], cultivars: readonly string[], sites?: readonly string[]) {
  return values.map((value, row) => ({
    id: `T${row}`,
    cultivar: cultivars[row] ?? '',
    site: sites?.[row] ?? 'yard',
    weight: Math.exp(value),
  }));
}

function ledgerOf(all: ReturnType<typeof trees>) {
  const keyed = <Value>(of: readonly (readonly [string, Value])[]) => Object.fromEntries(of);
  return buildLedger({
    sites: keyed(all.map(({ site }) => [site, site])),
    cultivars: keyed(all.map(({ cultivar }) => [cultivar, { name: cultivar }])),
    trees: keyed(all.map(({ id, cultivar, site }) => [id, { cultivar, site }])),
    seasons: {
      2026: {
        picks: all.map(({ id, weight }) => ({ on: '2026-09-01', tree: id, weights: [weight] })),
      },
    },
  });
}

function caseOf(id: string) {
  const one = readReference('f_anova_lsd_tukey_cld').cases.find((held) => held.id === id);
  if (one === undefined) throw new Error(`no case ${id}`);
  return { columns: toFields(one.data['columns']), expected: one.expected };
}

describe('the spread between trees', () => {
  it.each([
    ['PlantGrowth', 'weight', 'group', undefined],
    ['npk_N_in_blocks', 'yield', 'N', 'block'],
  ] as const)('of %s is its residual standard deviation', (id, value, treatment, block) => {
    const { columns, expected } = caseOf(id);
    const texts = (key: string) =>
      (columns[key] as readonly unknown[]).map((level) => `k${String(level)}`);
    // Logarithms of weights; divided, so that fruit stay within what a ledger takes.
    const values = toNumbers(columns[value]).map((one) => one / 10);
    const sites = block === undefined ? undefined : texts(block);
    const ledger = ledgerOf(trees(values, texts(treatment), sites));
    const spread = sharedSpreads(cropRecords(ledger), WEIGHT_FIGURE, 'nothing').get('main');
    const wanted = Number(expected['residual_sd']);
    expectAgreement(10 * (spread?.sd ?? 0), wanted, { rel: 1e-9 }, 'residual sd');
  });

  it('is shared: a single tree has an interval as wide as its likes, and two trees a narrower one', async () => {
    const { rows } = await runJson(LEDGER, 'weights');
    const width = (cultivar: string) => {
      const row = rows.find((one) => one['cultivar'] === cultivar);
      return Math.log(Number(row?.['high']) / Number(row?.['low']));
    };
    expect(width('Lone')).toBeCloseTo(Math.SQRT2 * width('Pair A'), 10);
    expect(width('Pair B')).toBeCloseTo(width('Pair A'), 10);
    const own = await runJson(LEDGER, 'weights', '--spread', 'own');
    const pair = own.rows.find((one) => one['cultivar'] === 'Pair A');
    expect(Number(pair?.['low'])).toBeLessThan(Number(rows[0]?.['low']));
  });

  it('is trusted by the number of trees where seasons say the same again, and by more where they do not', () => {
    const alike = spreadOverSeasons([0, 0, 0]);
    expect(alike?.df).toBeCloseTo(PAIRS.length, 10);
    const unlike = spreadOverSeasons([0, 3, 6]);
    expect(unlike?.df).toBeGreaterThan(PAIRS.length + 1);
    expect(unlike?.df).toBeLessThanOrEqual(3 * PAIRS.length);
  });

  it('is wider for a row of few fruit, by the variance of what they lack', async () => {
    const fruit = (few: number) => (at: number) => (at === TREES.length - 1 ? few : 20);
    const width = async (few: number) => {
      const counts = TREES.map((tree, at) => ({
        on: '2026-07-01',
        tree,
        crop: 'main',
        fruit: fruit(few)(at) + (at % 3),
        branches: 8,
      }));
      const season = JSON.stringify({ season: 2026, counts });
      const { rows } = await runJson(
        { ...LEDGER, 'seasons/2026.yaml': season },
        'yield',
        '--by',
        'cultivar',
      );
      const lone = rows.find((one) => one['cultivar'] === 'Lone');
      return Math.log(Number(lone?.['fruitPerBranchHigh']) / Number(lone?.['fruitPerBranchLow']));
    };
    // The lone tree comes last, so it has 2 fruit more than said: 22 against 2. Student's t on 4 degrees of freedom.
    const t = 2.776445;
    const [many, two] = [await width(20), await width(0)];
    const pairs = TREES.slice(0, -1).map((_, at) => 1 / (20 + (at % 3)));
    const told = pairs.reduce((sum, one) => sum + one) / pairs.length;
    expect(two ** 2 - many ** 2).toBeCloseTo((2 * t) ** 2 * (1 / 2 - told), 4);
  });

  it('is not told by fewer than three degrees of freedom', async () => {
    const { rows, notes } = await runJson({ ...LEDGER, 'trees.yaml': FEW }, 'weights');
    expect(rows.every(({ low, high }) => low === null && high === null)).toBe(true);
    expect(notes.some(({ text }) => text.startsWith('No intervals: too few cultivars'))).toBe(true);
  });
});

/** Of weights of all trees in three seasons, each season's moved on by so many trees. */
function spreadOverSeasons(moved: readonly number[]) {
  const ledger = buildLedger({
    sites: { yard: 'yard' },
    cultivars: Object.fromEntries(TREES.map((id) => [id.slice(0, 1), { name: id }])),
    trees: Object.fromEntries(TREES.map((id) => [id, { cultivar: id.slice(0, 1), site: 'yard' }])),
    seasons: Object.fromEntries(
      moved.map((by, season) => [
        2024 + season,
        {
          picks: TREES.map((tree, at) => ({
            on: `${2024 + season}-09-01`,
            tree,
            weights: [WEIGHTS[(at + by) % TREES.length] ?? 0],
          })),
        },
      ]),
    ),
  });
  return sharedSpreads(cropRecords(ledger), WEIGHT_FIGURE, 'seasons').get('main');
}

const PAIRS = ['a', 'b', 'c', 'd'];
const TREES = [...PAIRS.flatMap((key) => [`${key}1`, `${key}2`]), 'lone'];
const WEIGHTS = [40, 44, 61, 70, 33, 30, 52, 57, 48];
const asTrees = (ids: readonly string[], cultivarOf: (id: string) => string) =>
  JSON.stringify(
    Object.fromEntries(ids.map((id) => [id, { cultivar: cultivarOf(id), site: 'yard' }])),
  );
const FEW = asTrees(TREES, (id) => (id === 'a1' || id === 'a2' ? 'pair-a' : id));
const LEDGER = {
  'ledger.yaml': JSON.stringify({
    title: 'Tidewrack Lane fig trial',
    fruit: 'fig',
    traits: ['flavour'],
    sites: { yard: { name: 'south wall', cover: 'open' } },
  }),
  'cultivars.yaml': JSON.stringify(
    Object.fromEntries([
      ...PAIRS.map((key) => [
        `pair-${key}`,
        { name: `Pair ${key.toUpperCase()}`, bears: 'common' },
      ]),
      ...TREES.map((key) => [key, { name: key === 'lone' ? 'Lone' : key, bears: 'common' }]),
    ]),
  ),
  'trees.yaml': asTrees(TREES, (id) => (id === 'lone' ? 'lone' : `pair-${id.slice(0, 1)}`)),
  'seasons/2026.yaml': JSON.stringify({
    season: 2026,
    picks: TREES.map((tree, at) => ({
      on: '2026-09-01',
      tree,
      crop: 'main',
      weights: [WEIGHTS[at], (WEIGHTS[at] ?? 0) + 2],
    })),
  }),
};
