import { expect, it } from 'vitest';
import { quasiVariances } from '../../src/stats/orders/quasi-variances.ts';
import { expectAgreement, expectAllAgree } from './agreement.ts';
import { type ReferenceCase, readReference } from './read-reference.ts';

const { cases } = readReference('quasi_variances');

function caseNamed(id: string): ReferenceCase {
  const found = cases.find((held) => held.id === id);
  if (found === undefined) throw new Error(`no case ${id}`);
  return found;
}

const ships = caseNamed('ship_damage');
const occupations = caseNamed('prestige_negative');

it('quasiVariances gives those published for ship damage, and their errors', () => {
  // McCullagh and Nelder 1989, section 6.3.2; method of Firth and de Menezes 2004.
  const { covariance } = ships.data as { covariance: number[][] };
  const expected = ships.expected as Record<string, number[]>;
  const result = quasiVariances(covariance);
  const printed = { abs: 5e-6 };
  expectAllAgree(result?.variances ?? [], expected['quasi_variance'] ?? [], printed, 'variance');
  const errors = result?.standardErrors ?? [];
  expectAllAgree(errors, expected['quasi_se'] ?? [], { abs: 5e-5 }, 'standard error');
  for (const kind of ['difference', 'contrast'] as const) {
    const range = result?.[`${kind}s`];
    const [lowest = Number.NaN, highest = Number.NaN] = expected[`${kind}_errors_percent`] ?? [];
    expectAgreement(100 * (range?.lowest ?? Number.NaN), lowest, { abs: 0.05 }, `${kind} lowest`);
    expectAgreement(
      100 * (range?.highest ?? Number.NaN),
      highest,
      { abs: 0.05 },
      `${kind} highest`,
    );
  }
});

it('quasiVariances can be negative, and then has no standard error', () => {
  const { se_from_first } = occupations.data as { se_from_first: number[] };
  const expected = (occupations.expected as Record<string, number[]>)['quasi_variance'] ?? [];
  const [second = Number.NaN, third = Number.NaN] = se_from_first.map((se) => se ** 2);
  const shared = expected[0] ?? Number.NaN;
  const result = quasiVariances([
    [0, 0, 0],
    [0, second, shared],
    [0, shared, third],
  ]);
  expectAllAgree(result?.variances ?? [], expected, { abs: 1e-5 }, 'variance');
  expect(result?.standardErrors[2]).toBeUndefined();
});
