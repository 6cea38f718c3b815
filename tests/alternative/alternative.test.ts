import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openLedger } from '../../src/library/open-ledger.ts';
import { INDEX_BANDS, INDEX_WEIGHTS } from '../bench/index-rule.ts';
import { compareFigures, relativeDifference } from './compare-figures.ts';
import { type BothFigures, compareRanks, figuresOf, isEqual, TOLERANCE } from './compare-ledger.ts';
import { hasR } from './plain-figures.ts';

/** ms for a dozen programs on a busy machine, as for a test. */
const PATIENCE = 300_000;

const withR = hasR();
const why = withR ? '' : ' (skipped: Rscript is not installed)';

describe.skipIf(!withR)(`the example ledger in base R, from the exported tables${why}`, () => {
  let tables = '';
  let both: BothFigures;

  beforeAll(async () => {
    tables = mkdtempSync(join(tmpdir(), 'pomary-alternative-'));
    both = await figuresOf('ledger-example', tables);
  }, PATIENCE);
  afterAll(() => rmSync(tables, { recursive: true, force: true }));

  test('every figure is equal', () => {
    const { figures, cells, largest, alone } = compareFigures(both.pomary, both.r);
    expect(alone).toEqual([]);
    expect(largest).toBeLessThanOrEqual(TOLERANCE);
    expect(cells).toBeGreaterThan(2500);
    const counted = new Map(figures.map(({ name, cells: own }) => [name, own]));
    for (const [name, least] of [
      ['yield by tree, fruitPerBranch', 50],
      ['yield by cultivar, fruitPerBranchLow', 15],
      ['weights, median', 25],
      ['weights, low', 25],
      ['soundness, low', 25],
      ['crops, shareOfWeight', 30],
      ['stability, slopeSe', 20],
      ['scores, mean', 70],
      ['scores, se', 70],
      ['scores, place', 70],
      ['scores, apart', 70],
      ['anova, p', 18],
      ['anova, lsd', 6],
    ] as const) {
      expect(counted.get(name), name).toBeGreaterThanOrEqual(least);
    }
  });

  test('a figure that differs or is not there is found', () => {
    const [first, ...rest] = both.r;
    if (first === undefined) throw new Error('R worked nothing out');
    const nudged = { ...first, value: first.value * (1 + 1e-8) };
    expect(isEqual(compareFigures(both.pomary, both.r))).toBe(true);
    expect(isEqual(compareFigures(both.pomary, [nudged, ...rest]))).toBe(false);
    expect(compareFigures(both.pomary, rest).alone).toHaveLength(1);
    expect(isEqual(compareFigures(both.pomary.slice(1), both.r))).toBe(false);
  });

  test('the rank goes with an index by least squares, far more than by chance', async () => {
    // The R script has these weights and bands too.
    const { ledger } = await openLedger('ledger-example');
    expect(Object.fromEntries(ledger?.trial.rank.weights ?? [])).toEqual(INDEX_WEIGHTS);
    expect(Object.fromEntries(ledger?.trial.rank.bands ?? [])).toEqual(INDEX_BANDS);
    const orders = compareRanks('ledger-example', tables);
    expect(orders.map(({ crop }) => crop)).toEqual(['early', 'main']);
    for (const { cultivars, alone, tau } of orders) {
      expect(alone).toEqual([]);
      expect(cultivars).toBeGreaterThanOrEqual(10);
      expect(tau?.coefficient).toBeGreaterThan(0);
      expect(tau?.p).toBeLessThan(0.01);
    }
  });
});

test('a relative difference is over the larger, and plain where one is 0', () => {
  expect(relativeDifference(4, 5)).toBeCloseTo(0.2, 15);
  expect(relativeDifference(-5, 5)).toBe(2);
  expect(relativeDifference(0, 3)).toBe(3);
  expect(relativeDifference(0, 0)).toBe(0);
  expect(relativeDifference(Number.NaN, 1)).toBeNaN();
});
