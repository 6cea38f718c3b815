import { expect } from 'vitest';

/** How far a value may be from its reference: at most `abs`, or at most `rel` of the reference. */
export interface Tolerance {
  readonly abs?: number;
  readonly rel?: number;
}

/** Fails, naming what was compared, unless the value is within the tolerance of the reference. */
export function expectAgreement(
  actual: number | undefined,
  expected: number,
  { abs = 0, rel = 0 }: Tolerance,
  what: string,
): void {
  const allowed = Math.max(abs, rel * Math.abs(expected));
  const error = Math.abs((actual ?? Number.NaN) - expected);
  expect(error <= allowed, `${what}: ${actual}, reference ${expected}, off by ${error}`).toBe(true);
}

/** The same for a list, which must be as long as the reference. */
export function expectAllAgree(
  actual: readonly (number | undefined)[],
  expected: readonly number[],
  tolerance: Tolerance,
  what: string,
): void {
  expect(actual, what).toHaveLength(expected.length);
  for (const [i, value] of expected.entries()) {
    expectAgreement(actual[i], value, tolerance, `${what} ${i}`);
  }
}
