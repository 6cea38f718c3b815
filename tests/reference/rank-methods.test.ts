import { describe, expect, it } from 'vitest';
import { friedman } from '../../src/stats/ranks/friedman.ts';
import { kendallW } from '../../src/stats/ranks/kendall-w.ts';
import { rankTable } from '../../src/stats/ranks/rank-table.ts';
import { kendallTauB } from '../support/kendall-tau-b.ts';
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

  it('gives the statistic of a published example with ties', () => {
    // Worked example in a statistics package's manual of the exact test of Wellek 1989: 10 judges,
    // 3 treatments, rank sums 12, 22.5, 25.5, Friedman 11.486, p .0032.
    const rows = '343|224|335|132|232|245|124|344|245|134';
    const test = friedman(rows.split('|').map((row) => [...row].map(Number)));
    expect(test?.rankSums).toEqual([12, 22.5, 25.5]);
    expectAgreement(test?.chiSquare, 11.486, { abs: 5e-4 }, 'Friedman');
    expectAgreement(test?.p, 0.0032, { abs: 5e-5 }, 'p');
  });
});

const correlations = cases.filter(({ expected }) => 'kendall_tau_b' in expected);

describe('kendallTauB', () => {
  it.each(correlations)('$id: $provenance', ({ data, expected }) => {
    const { x, y } = data as unknown as Lists;
    const values = expected as Values;
    const methods = expected as unknown as Record<string, string>;
    const at = (key: string) => values[key] ?? Number.NaN;
    const tau = kendallTauB(x, y);
    expectAgreement(tau?.coefficient, at('kendall_tau_b'), NEAR, 'tau-b');
    expectAgreement(tau?.p, at('kendall_p_two_sided'), { rel: 1e-10 }, 'p of tau');
    expect(tau?.method === 'exact').toBe(methods['kendall_p_method'] === 'exact');
  });
});
