// Stability and alternate bearing from what a grower types, beside the same published and constructed
// tables that the mathematics is held against.
import { describe, expect, it, test } from 'vitest';
import { stability } from '../../src/judge/stability/stability.ts';
import type { Ledger } from '../../src/model/ledger.ts';
import { buildLedger, type LedgerSketch, threeTrees } from '../support/build-ledger.ts';
import { expectAllAgree } from './agreement.ts';
import { absoluteError, numberAt, numbersAt } from './fields.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

type Named = Readonly<Record<string, number>>;

// Barley of Immer, Hayes and Powers 1934, J. Am. Soc. Agron. 26:403-419: 5 cultivars at 6 sites in 2
// years; formulas of Finlay and Wilkinson 1963, Wricke 1962 and Shukla 1972 evaluated in R.
const immer = readReference('l_stability').cases.find(({ id }) => id === 'immer_12_env');

/** Yields to one decimal, as ten times as many fruit on ten branches of one tree at each site. */
function barleyLedger({ data }: ReferenceCase): Ledger {
  const genotypes = data['genotypes'] as string[];
  const environments = data['environments'] as string[];
  const yields = data['yield_genotype_by_environment'] as number[][];
  const place = (name: string) => ({
    site: name.slice(0, -2),
    year: 1900 + Number(name.slice(-2)),
  });
  const sites = [...new Set(environments.map((name) => place(name).site))];
  const countsOf = (year: number) =>
    genotypes.flatMap((key, row) =>
      environments.flatMap((name, column) =>
        place(name).year === year
          ? [
              {
                on: `${year}-08-01`,
                tree: `${key}-${place(name).site}`,
                fruit: Math.round(10 * (yields[row]?.[column] ?? Number.NaN)),
                branches: 10,
              },
            ]
          : [],
      ),
    );
  return buildLedger({
    sites: Object.fromEntries(sites.map((site) => [site, site])),
    cultivars: Object.fromEntries(genotypes.map((key) => [key, { name: key }])),
    trees: Object.fromEntries(
      genotypes.flatMap((key) => sites.map((site) => [`${key}-${site}`, { cultivar: key, site }])),
    ),
    seasons: { 1931: { counts: countsOf(1931) }, 1932: { counts: countsOf(1932) } },
  });
}

describe('stability of productivity', () => {
  it('is that of the published table', () => {
    if (immer === undefined) throw new Error('the reference has no immer_12_env');
    const [main] = stability(barleyLedger(immer), { crops: ['main'] }, 'productivity', 0.95);
    const expected = (key: string) => Object.values(immer.expected[key] as Named);
    const rows = main?.rows ?? [];
    expect(rows.map(({ cultivar }) => cultivar.key)).toEqual(immer.data['genotypes']);
    expect(rows.map(({ environments }) => environments)).toEqual([12, 12, 12, 12, 12]);
    const near = { rel: 1e-11, abs: 1e-13 };
    const agree = (actual: readonly (number | undefined)[], key: string) => {
      expectAllAgree(actual, expected(key), near, key);
    };
    agree(
      rows.map((row) => row.mean),
      'genotype_mean',
    );
    agree(
      rows.map((row) => row.slope?.value),
      'fw_slope',
    );
    agree(
      rows.map((row) => row.slope?.se),
      'fw_slope_se',
    );
    agree(
      rows.map((row) => row.wricke),
      'wricke_ecovalence',
    );
    agree(
      rows.map((row) => row.shukla),
      'shukla_variance',
    );
    // T gains more than the others from good environments: 1.346 - 2.228 x 0.172 = 0.962 (t on 10
    // degrees of freedom, Student's table), so even that cannot be told from 1.
    expect(rows[3]?.slope?.low).toBeCloseTo(1.3456 - 2.2281 * 0.1724, 3);
  });

  it('does not change for one cultivar when only that one is asked for', () => {
    if (immer === undefined) throw new Error('the reference has no immer_12_env');
    const ledger = barleyLedger(immer);
    const all = stability(ledger, { crops: ['main'] }, 'productivity', 0.95)[0];
    const one = stability(ledger, { crops: ['main'], cultivars: ['T'] }, 'productivity', 0.95)[0];
    expect(one?.rows).toEqual(all?.rows.filter(({ cultivar }) => cultivar.key === 'T'));
  });
});

/** One tree with a count a year, and the alternation of its cultivar. */
function alternationOver(yields: ReadonlyMap<number, number>) {
  const seasons: LedgerSketch['seasons'] = Object.fromEntries(
    [...yields].map(([year, fruit]) => [
      year,
      { counts: [{ on: `${year}-08-01`, tree: 'Y1', fruit }] },
    ]),
  );
  const [main] = stability(threeTrees(seasons), { crops: ['main'] }, 'productivity', 0.95);
  return main?.rows[0]?.alternation;
}

// Worked by hand from Hoblyn, Grubb, Painter & Wates 1936, Journal of Pomology and Horticultural
// Science 14:39-76; the yields are constructed.
describe('alternate bearing of a tree', () => {
  const { cases } = readReference('o_biennial_bearing');
  // Years before the first load are juvenile here, so cases that begin with empty years differ.
  test.each(cases.filter(({ data }) => numbersAt(data, 'annual_yield')[0] !== 0))(
    '$id',
    ({ data, expected, tolerance }) => {
      const yields = numbersAt(data, 'annual_yield');
      const seasons =
        'season' in data ? numbersAt(data, 'season') : yields.map((_, at) => 2001 + at);
      const found = alternationOver(new Map(seasons.map((year, at) => [year, yields[at] ?? 0])));
      const terms = expected['terms'] as (number | null)[];
      expect(found?.pairs).toBe(terms.filter((term) => term !== null).length);
      const error = absoluteError(found?.index, numberAt(expected, 'index'));
      expect(error).toBeLessThanOrEqual(numberAt(tolerance, 'abs'));
    },
  );

  it('leaves out the years before the first load, and pairs of two empty years', () => {
    const of = (...yields: number[]) =>
      alternationOver(new Map(yields.map((fruit, at) => [2001 + at, fruit])));
    expect(of(0, 0, 0)).toBeUndefined();
    expect(of(0, 0, 10)).toBeUndefined();
    expect(of(0, 0, 10, 30, 20)).toMatchObject({ index: 0.35, pairs: 2 });
    // 1, nothing, 1.
    expect(of(10, 0, 0, 10)).toMatchObject({ index: 1, pairs: 2 });
  });
});
