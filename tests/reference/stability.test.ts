import { describe, expect, it } from 'vitest';
import { finlayWilkinson } from '../../src/stats/stability/finlay-wilkinson.ts';
import { shuklaVariance, wrickeEcovalence } from '../../src/stats/stability/shukla-variance.ts';
import { expectAllAgree } from './agreement.ts';
import { readReference } from './read-reference.ts';

// Barley of Immer, Hayes and Powers 1934, J. Am. Soc. Agron. 26:403-419; formulas of Finlay and
// Wilkinson 1963, Wricke 1962 and Shukla 1972 evaluated in R; one case
// worked by hand.

type Named = Readonly<Record<string, number>>;
const { cases } = readReference('l_stability');
const complete = cases.filter(({ data }) => 'yield_genotype_by_environment' in data);
const listed = (named: unknown) => Object.values(named as Named);

// The hand case has zeros, which R gives as rounding errors.
const NEAR = { rel: 1e-11, abs: 1e-13 };

describe('stability over environments', () => {
  it.each(complete)('$id: $provenance', ({ id, data, expected }) => {
    const values = data['yield_genotype_by_environment'] as number[][];
    const { effects, groups, lines } = finlayWilkinson(values);
    const agree = (actual: readonly (number | undefined)[], key: string) => {
      expectAllAgree(actual, listed(expected[key]), NEAR, key);
    };
    expect(groups).toHaveLength(1);
    agree(effects, 'environment_index');
    agree(
      lines.map((line) => line?.slope),
      'fw_slope',
    );
    agree(
      lines.map((line) => line?.atMean),
      'fw_intercept_at_mean_env',
    );
    agree(
      lines.map((line) => line?.deviationSs),
      'dev_ss',
    );
    agree(
      lines.map((line) => line?.deviationMs),
      'dev_ms',
    );
    agree(
      lines.map((line) => line?.standardError),
      'fw_slope_se',
    );
    // By hand a constant treatment has no share of nothing.
    if (id === 'tiny_hand') expect(lines[2]?.rSquared).toBeUndefined();
    else
      agree(
        lines.map((line) => line?.rSquared),
        'r_squared',
      );
    const { ecovalences, shares = [], interactionSs } = wrickeEcovalence(values);
    agree(ecovalences, 'wricke_ecovalence');
    agree(
      shares.map((share) => 100 * share),
      'wricke_percent',
    );
    expectAllAgree([interactionSs], [expected['gxe_ss'] as number], NEAR, 'interaction');
    const shukla = shuklaVariance(values);
    agree(shukla?.variances ?? [], 'shukla_variance');
    expectAllAgree([shukla?.interactionMs], [expected['gxe_ms'] as number], NEAR, 'mean square');
  });

  it('takes the environment index from an additive fit where cells are missing', () => {
    const missing = cases.find(({ id }) => id === 'immer_missing_9_cells');
    const columns = missing?.data['columns'] as { V: string[]; E: string[]; y: number[] };
    const environments = Object.keys(missing?.expected['env_index_additive'] as Named);
    const treatments = Object.keys(missing?.expected['slope_additive_index'] as Named);
    const values = treatments.map((treatment) =>
      environments.map((environment) => {
        const row = columns.V.findIndex((v, i) => v === treatment && columns.E[i] === environment);
        return columns.y[row];
      }),
    );
    const { effects, lines } = finlayWilkinson(values);
    const near = { rel: 1e-11 };
    const expected = missing?.expected ?? {};
    expectAllAgree(effects, listed(expected['env_index_additive']), near, 'index');
    const slopes = lines.map((line) => line?.slope);
    expectAllAgree(slopes, listed(expected['slope_additive_index']), near, 'slope');
    const squares = lines.map((line) => line?.deviationMs);
    expectAllAgree(squares, listed(expected['dev_ms_additive_index']), near, 'mean square');
  });
});
