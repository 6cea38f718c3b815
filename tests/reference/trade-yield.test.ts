// Load, fruit per branch, trunk area, yield efficiency and mean fruit weight from a whole ledger.
// The sources of published figures stand beside them, here and in trade-nc140.json.
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { cropRecords } from '../../src/measure/crop-record.ts';
import { trunkArea } from '../../src/measure/trunk-area.ts';
import { meanWeight } from '../../src/measure/weight-figures.ts';
import type { YieldFigures } from '../../src/measure/yield-figures.ts';
import { yieldFigures } from '../../src/measure/yield-figures.ts';
import type { LedgerSketch, SeasonSketch } from '../support/build-ledger.ts';
import { buildLedger } from '../support/build-ledger.ts';
import { numberAt, numbersAt, recordRows, relativeError } from './fields.ts';
import { readReference } from './read-reference.ts';

function yieldOf(seasons: LedgerSketch['seasons'], trees: readonly string[]): YieldFigures {
  const ledger = buildLedger({
    cultivars: { one: { name: 'One' } },
    trees: Object.fromEntries(trees.map((id) => [id, { cultivar: 'one' }])),
    seasons,
  });
  return yieldFigures(ledger, cropRecords(ledger), { confidence: 0.95, trunkSeason: 2026 });
}

/** The girth of a round trunk of so many cm2. */
const girthOf = (area: number): number => Math.sqrt(4 * Math.PI * area);

describe.each(readReference('trade-nc140').cases)('yield efficiency: $id', (published) => {
  test.each(recordRows(published.data))('$rootstock', (row) => {
    // The yield comes in over four seasons, as in the trial; the trunk is measured after the last.
    const pick = (year: number): SeasonSketch => ({
      picks: [{ on: `${year}-10-01`, tree: 'T', fruit: 50, weight: 250 * numberAt(row, 'yield') }],
    });
    const growth = [
      { on: '2024-11-01', tree: 'T', girth: 5 },
      { on: '2026-11-01', tree: 'T', girth: girthOf(numberAt(row, 'area')) },
    ];
    const figures = yieldOf(
      { 2023: pick(2023), 2024: pick(2024), 2025: pick(2025), 2026: { ...pick(2026), growth } },
      ['T'],
    );
    expect(relativeError(figures.trunkArea, numberAt(row, 'area'))).toBeLessThan(1e-14);
    const kilograms = (figures.yieldEfficiency ?? Number.NaN) / 1000;
    const off = (key: string) => Math.abs(kilograms - numberAt(row, key));
    expect(off('ratio')).toBeLessThanOrEqual(numberAt(published.tolerance, 'ratio'));
    if ('printed' in row) {
      expect(off('printed')).toBeLessThanOrEqual(numberAt(published.tolerance, 'printed'));
    }
  });
});

describe('trunk area', () => {
  // pi d^2 / 4 = C^2 / 4 pi, plane geometry; worked by hand.
  test('of a girth of 15.7 cm is 19.62 cm2, of a diameter of 5.0 cm 19.63 cm2', () => {
    expect(trunkArea(15.7).toFixed(2)).toBe('19.62');
    expect(trunkArea(5 * Math.PI).toFixed(2)).toBe('19.63');
  });

  test('of stems of 3.0, 2.5 and 2.0 cm adds up to 15.12 cm2', () => {
    const stems = [3, 2.5, 2].map((diameter) => trunkArea(diameter * Math.PI));
    expect(stems.reduce((all, one) => all + one, 0).toFixed(2)).toBe('15.12');
  });

  test('of a row is the sum over its trees', () => {
    const growth = ['A', 'B'].map((tree) => ({ on: '2026-03-01', tree, girth: 15.7 }));
    const counts = ['A', 'B'].map((tree) => ({ on: '2026-07-01', tree, fruit: 1 }));
    expect(yieldOf({ 2026: { growth, counts } }, ['A', 'B']).trunkArea?.toFixed(2)).toBe('39.23');
  });
});

describe('fruit per branch', () => {
  const perBranch = (fruit: number, branches: number) =>
    yieldOf({ 2026: { counts: [{ on: '2026-07-02', tree: 'T', fruit, branches }] } }, ['T'])
      .fruitPerBranch?.value;

  test('is load / branches, never rounded on the way (common practice, no source)', () => {
    expect(perBranch(18, 8)).toBe(2.25);
    expect(perBranch(21, 8)).toBe(2.625);
  });

  // Cochran 1977, Sampling Techniques, 3rd ed., sec. 6.1 to 6.3, and boot::city of R 4.2.2: each
  // city is a tree, its people of 1930 the load, those of 1920 the branches.
  const ratios = readReference('n_ratio_and_rates').cases.filter(
    ({ id }) => id === 'city10_no_fpc' || id === 'cochran_49_cities',
  );
  test.each(ratios)(
    'of many trees is the ratio of totals: $id',
    ({ data, expected, tolerance }) => {
      const people = numbersAt(data, 'y');
      const before = numbersAt(data, 'x');
      const trees = people.map((_, at) => `T${at}`);
      const counts = people.map((fruit, at) => ({
        on: '2026-07-02',
        tree: `T${at}`,
        fruit,
        branches: before[at] ?? Number.NaN,
      }));
      const found = yieldOf({ 2026: { counts } }, trees).fruitPerBranch;
      const allowed = numberAt(tolerance, 'rel');
      expect(relativeError(found?.value, numberAt(expected, 'ratio'))).toBeLessThanOrEqual(allowed);
      if (data['N'] !== null) return; // its standard error is corrected for a finite population
      const [low = Number.NaN, high = Number.NaN] = numbersAt(expected, 'ci95_t');
      expect(relativeError(found?.se, numberAt(expected, 'se_linearised'))).toBeLessThanOrEqual(
        allowed,
      );
      expect(relativeError(found?.low, low)).toBeLessThanOrEqual(allowed);
      expect(relativeError(found?.high, high)).toBeLessThanOrEqual(allowed);
    },
  );
});

// Worked by hand: 236.4 g of four fruit.
test('mean weight of 70.5, 50.9, 67 and 48 g is 59.1 g, weighed singly or together', () => {
  const means = [{ weights: [70.5, 50.9, 67, 48] }, { fruit: 4, weight: 236.4 }].map((weighed) => {
    const ledger = buildLedger({
      cultivars: { one: { name: 'One' } },
      trees: { T: { cultivar: 'one' } },
      seasons: { 2026: { picks: [{ on: '2026-08-01', tree: 'T', ...weighed }] } },
    });
    return meanWeight(cropRecords(ledger), 0.95)?.value;
  });
  expect(means[0]).toBeCloseTo(59.1, 12);
  expect(means[1]).toBeCloseTo(59.1, 12);
});

// The check values above are common practice; what is invented shows figures of its own.
test('the example and the README do not lean on the check values', () => {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const seasons = readdirSync(`${root}/ledger-example/seasons`).map(
    (name) => `ledger-example/seasons/${name}`,
  );
  expect(seasons.length).toBeGreaterThan(2);
  for (const path of [...seasons, 'README.md']) {
    const text = readFileSync(`${root}/${path}`, 'utf8');
    expect(text, path).not.toMatch(
      /fruit: 18, branches: 8\b|\b18 (fruit )?on 8\b|\b18 +8 +2\.25|\b70\.5, 50\.9\b/,
    );
  }
});
