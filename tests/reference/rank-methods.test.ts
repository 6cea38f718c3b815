import { describe, expect, it } from 'vitest';
import { durbin } from '../../src/stats/durbin.ts';
import { friedman } from '../../src/stats/friedman.ts';
import { kendallTauB } from '../../src/stats/kendall-tau-b.ts';
import { kendallW } from '../../src/stats/kendall-w.ts';
import { pageTrend } from '../../src/stats/page-trend.ts';
import { rankSumLsd } from '../../src/stats/rank-sum-lsd.ts';
import { rankTable } from '../../src/stats/rank-table.ts';
import { skillingsMack } from '../../src/stats/skillings-mack.ts';
import { spearman } from '../../src/stats/spearman.ts';
import { expectAgreement, expectAllAgree } from './agreement.ts';
import { readReference } from './read-reference.ts';

// Sources of the cases are named in the file.
const { cases } = readReference('i_rank_methods');

type Table = { readonly y: number[][] };
type Lists = { readonly x: number[]; readonly y: number[] };
type Values = Readonly<Record<string, number>>;

// The references hold to 1e-10, p to 1e-8 (their tolerances); what was reached is about 1e-14.
const NEAR = { rel: 1e-12 };

const concordance = cases.filter(({ expected }) => 'friedman_chisq_uncorrected' in expected);

describe('friedman and kendallW', () => {
  it.each(concordance)('$id: $provenance', ({ data, expected }) => {
    const { y } = data as unknown as Table;
    const values = expected as Values;
    const lists = expected as unknown as Record<string, number[]>;
    const test = friedman(y);
    const at = (key: string) => values[key] ?? Number.NaN;
    expect(rankTable(y).ranks).toEqual(lists['ranks']);
    expect(test?.rankSums).toEqual(lists['rank_sums']);
    expectAllAgree(test?.meanRanks ?? [], lists['mean_ranks'] ?? [], NEAR, 'mean rank');
    expect(test?.tieSum).toBe(at('tie_sum_t3_minus_t'));
    expectAgreement(test?.uncorrected, at('friedman_chisq_uncorrected'), NEAR, 'uncorrected');
    expectAgreement(test?.chiSquare, at('friedman_chisq_tie_corrected'), NEAR, 'chi-square');
    expect(test?.df).toBe(at('df'));
    expectAgreement(test?.p, at('p_chisq'), NEAR, 'p');
    expectAgreement(test?.fTest?.f, at('iman_davenport_F'), NEAR, 'F');
    expect([test?.fTest?.df1, test?.fTest?.df2]).toEqual(lists['iman_davenport_df']);
    expectAgreement(test?.fTest?.p, at('iman_davenport_p'), NEAR, 'p of F');
    const agreement = kendallW(y);
    expectAgreement(agreement?.w, at('kendall_W_tie_corrected'), NEAR, 'W');
    expectAgreement(agreement?.uncorrected, at('kendall_W_uncorrected'), NEAR, 'W uncorrected');
    expectAgreement(agreement?.meanSpearman, at('mean_spearman_from_W'), NEAR, 'mean Spearman');
  });

  it('gives the worked example of ISO 8587, annex A', () => {
    // ISO 8587, Sensory analysis - Ranking, annex A: 8 assessors, 5 samples, rank sums A 17, B 31,
    // C 32, D 23, E 17; F 10.60 against 9.49. Rankings with those sums, not those of the standard,
    // which only needs the sums.
    const assessors = [
      [1, 4, 5, 3, 2],
      [2, 5, 4, 3, 1],
      [2, 4, 5, 3, 1],
      [3, 4, 5, 2, 1],
      [2, 4, 3, 1, 5],
      [2, 3, 4, 5, 1],
      [3, 4, 2, 1, 5],
      [2, 3, 4, 5, 1],
    ];
    const test = friedman(assessors);
    expect(test?.rankSums).toEqual([17, 31, 32, 23, 17]);
    expectAgreement(test?.chiSquare, 10.6, { abs: 1e-9 }, 'F of the standard');
    expectAgreement(test?.p, 0.0314, { abs: 5e-5 }, 'p');
    const least = rankSumLsd(8, 5, 0.95);
    expectAgreement(least, 12.4, { abs: 0.005 }, 'least significant difference');
    const sums = test?.rankSums ?? [];
    const apart = sums.flatMap((one, i) =>
      sums
        .slice(i + 1)
        .flatMap((other, j) => (Math.abs(one - other) > least ? [[i, i + 1 + j]] : [])),
    );
    // A and E differ from B and C; D from none.
    expect(apart).toEqual([
      [0, 1],
      [0, 2],
      [1, 4],
      [2, 4],
    ]);
  });

  it('gives the statistic of a panel in near full agreement', () => {
    // Teaching example of a ranking test: 7 assessors, 6 samples of turmeric, sums 7 to 41, F 34.51
    // on 5 df.
    const usual = [1, 2, 3, 4, 5, 6];
    const test = friedman([...new Array<number[]>(6).fill(usual), [1, 2, 3, 4, 6, 5]]);
    expect(test?.rankSums).toEqual([7, 14, 21, 28, 36, 41]);
    expectAgreement(test?.chiSquare, 34.51, { abs: 0.005 }, 'F');
    expect(test?.df).toBe(5);
  });
});

describe('pageTrend', () => {
  it.each(cases.filter(({ id }) => id.startsWith('page')))('$id: $provenance', (held) => {
    const values = held.expected as Values;
    const { y } = held.data as unknown as Table;
    const exact = pageTrend(y);
    const normal = pageTrend(y, { exact: false });
    expect([exact?.method, normal?.method]).toEqual(['exact', 'normal']);
    expect(exact?.l).toBe(values['L']);
    expect(exact?.expected).toBe(values['E_L']);
    expectAgreement(exact?.variance, values['Var_L_tie_corrected'] ?? Number.NaN, NEAR, 'variance');
    expectAgreement(exact?.z, values['z_tie_corrected'] ?? Number.NaN, NEAR, 'z');
    expectAgreement(normal?.p, values['p_one_sided_normal'] ?? Number.NaN, NEAR, 'p');
    expectAgreement(exact?.p, values['p_exact_permutation'] ?? Number.NaN, NEAR, 'exact p');
  });

  it('gives the statistics of a published example with ties', () => {
    // Worked example in a statistics package's manual of the exact test of Wellek 1989: 10 judges,
    // 3 treatments, rank sums 12, 22.5, 25.5, L 133.5 and, by the distribution of rankings without
    // ties, p .001819. On the same data Friedman's test gives 11.486, p .0032.
    const rows = '343|224|335|132|232|245|124|344|245|134';
    const y = rows.split('|').map((row) => [...row].map(Number));
    const test = pageTrend(y);
    expect(test?.rankSums).toEqual([12, 22.5, 25.5]);
    expect(test?.l).toBe(133.5);
    expect(test?.expected).toBe(120);
    expectAgreement(friedman(y)?.chiSquare, 11.486, { abs: 5e-4 }, 'Friedman');
    expectAgreement(friedman(y)?.p, 0.0032, { abs: 5e-5 }, 'Friedman p');
    // Without ties L is whole; the published p is the chance of 133 or more.
    const untied = pageTrend(rankingsWithL(10, 3, 133));
    expectAgreement(untied?.p, 0.001819, { abs: 5e-7 }, 'p without ties');
    expect(untied?.variance).toBeCloseTo(20, 12);
  });

  // Page 1963, JASA 58:216-230, as reprinted in Siegel and Castellan 1988, Nonparametric Statistics
  // for the Behavioral Sciences, 2nd ed., appendix table N: the least L significant at .05, .01 and
  // .001 for 2 to 12 blocks; undefined where none can be.
  const none = undefined;
  const critical: Record<number, Record<number, (number | undefined)[]>> = {
    3: {
      0.05: [28, 41, 54, 66, 79, 91, 104, 116, 128, 141, 153],
      0.01: [none, 42, 55, 68, 81, 93, 106, 119, 131, 144, 156],
      0.001: [none, none, 56, 70, 83, 96, 109, 121, 134, 147, 160],
    },
    4: {
      0.05: [58, 84, 111, 137, 163, 189, 214, 240, 266, 292, 317],
      0.01: [60, 87, 114, 141, 167, 193, 220, 246, 272, 298, 324],
      0.001: [none, 89, 117, 145, 172, 198, 225, 252, 278, 305, 331],
    },
  };
  it.each([3, 4])('gives the critical values of the published table for %i treatments', (k) => {
    for (const [level, values] of Object.entries(critical[k] ?? {})) {
      values.forEach((l, place) => {
        const blocks = place + 2;
        if (l === undefined) return;
        const at = `${k} treatments, ${blocks} blocks, ${level}`;
        const p = pageTrend(rankingsWithL(blocks, k, l))?.p ?? Number.NaN;
        const short = pageTrend(rankingsWithL(blocks, k, l - 1))?.p ?? Number.NaN;
        expect(p, at).toBeLessThanOrEqual(Number(level));
        expect(short, at).toBeGreaterThan(Number(level));
      });
    }
  });
});

/**
 * Untied rankings with the given L, found by going through the arrangements of one block after the
 * other.
 */
function rankingsWithL(blocks: number, treatments: number, l: number): number[][] {
  const all = arrangements(Array.from({ length: treatments }, (_, i) => i + 1));
  const score = (ranks: readonly number[]) =>
    ranks.reduce((sum, rank, i) => sum + (i + 1) * rank, 0);
  const scores = all.map(score);
  const [least, most] = [Math.min(...scores), Math.max(...scores)];
  const search = (left: number, rest: number): number[][] | undefined => {
    if (left === 0) return rest === 0 ? [] : undefined;
    if (rest < left * least || rest > left * most) return undefined;
    for (const ranks of all) {
      const others = search(left - 1, rest - score(ranks));
      if (others !== undefined) return [ranks, ...others];
    }
    return undefined;
  };
  const found = search(blocks, l);
  if (found === undefined) throw new Error(`no ${blocks} rankings of ${treatments} have L ${l}`);
  return found;
}

function arrangements(values: readonly number[]): number[][] {
  if (values.length === 0) return [[]];
  return values.flatMap((value) =>
    arrangements(values.filter((other) => other !== value)).map((rest) => [value, ...rest]),
  );
}

const correlations = cases.filter(({ expected }) => 'spearman_rho' in expected);

describe('spearman and kendallTauB', () => {
  it.each(correlations)('$id: $provenance', ({ data, expected }) => {
    const { x, y } = data as unknown as Lists;
    const values = expected as Values;
    const methods = expected as unknown as Record<string, string>;
    const at = (key: string) => values[key] ?? Number.NaN;
    const rho = spearman(x, y, {
      exact: methods['spearman_p_method']?.startsWith('exact') ?? false,
    });
    expectAgreement(rho?.coefficient, at('spearman_rho'), NEAR, 'rho');
    // The Edgeworth series is another approximation than the one here.
    if (!methods['spearman_p_method']?.startsWith('Edgeworth')) {
      expectAgreement(rho?.p, at('spearman_p_two_sided'), { rel: 1e-10 }, 'p of rho');
    }
    if ('spearman_p_exact_permutation_two_sided' in values) {
      const wanted = at('spearman_p_exact_permutation_two_sided');
      expectAgreement(spearman(x, y)?.p, wanted, NEAR, 'exact p of rho');
    }
    const tau = kendallTauB(x, y);
    expectAgreement(tau?.coefficient, at('kendall_tau_b'), NEAR, 'tau-b');
    expectAgreement(tau?.p, at('kendall_p_two_sided'), { rel: 1e-10 }, 'p of tau');
    expect(tau?.method === 'exact').toBe(methods['kendall_p_method'] === 'exact');
  });
});

describe('durbin', () => {
  it('gives the ice-cream example', () => {
    // Conover 1999, Practical Nonparametric Statistics, 3rd ed., p. 391: 7 varieties, 7 judges of 3
    // each.
    const varieties = [
      [1, 2, 4],
      [2, 3, 5],
      [3, 4, 6],
      [4, 5, 7],
      [1, 5, 6],
      [2, 6, 7],
      [1, 3, 7],
    ];
    const ranks = [
      [2, 3, 1],
      [3, 1, 2],
      [2, 1, 3],
      [1, 2, 3],
      [3, 1, 2],
      [3, 1, 2],
      [3, 1, 2],
    ];
    const values = varieties.map((tasted, judge) =>
      Array.from({ length: 7 }, (_, v) => ranks[judge]?.[tasted.indexOf(v + 1)]),
    );
    const test = durbin(values);
    expect(test?.rankSums).toEqual([8, 9, 4, 3, 5, 6, 7]);
    expect([test?.blockSize, test?.replicates, test?.df]).toEqual([3, 3, 6]);
    expectAgreement(test?.chiSquare, 12, NEAR, 'D');
    expectAgreement(test?.p, 0.062, { abs: 5e-5 }, 'p');
    expectAgreement(test?.fTest?.f, 8, NEAR, 'F');
    expect([test?.fTest?.df1, test?.fTest?.df2]).toEqual([6, 8]);
    expectAgreement(test?.fTest?.p, 0.0049, { abs: 5e-5 }, 'p of F');
    // The general test agrees on balanced blocks.
    expectAgreement(skillingsMack(values)?.chiSquare, 12, { rel: 1e-12 }, 'Skillings-Mack');
  });
});

it('skillingsMack gives the published example of assembly times', () => {
  // Skillings and Mack 1981, Technometrics 23:171-177: four methods, nine blocks, four values
  // missing; statistic 15.493, p .0014. Data and result from memory; that they fit each other
  // supports both.
  const byMethod = [
    [3.2, 3.1, 4.3, 3.5, 3.6, 4.5, undefined, 4.3, 3.5],
    [4.1, 3.9, 3.5, 3.6, 4.2, 4.7, 4.2, 4.6, undefined],
    [3.8, 3.4, 4.6, 3.9, 3.7, 3.7, 3.4, 4.4, 3.7],
    [4.2, 4.0, 4.8, 4.0, 3.9, undefined, undefined, 4.9, 3.9],
  ];
  const blocks = Array.from({ length: 9 }, (_, block) => byMethod.map((values) => values[block]));
  const test = skillingsMack(blocks);
  expectAgreement(test?.chiSquare, 15.493, { abs: 5e-4 }, 'statistic');
  expectAgreement(test?.p, 0.0014, { abs: 5e-5 }, 'p');
  expect(test?.df).toBe(3);
});
