/**
 * `base` to the power of `exponent`, to the same last digit in every version of the engine. That of
 * `**` changed between V8 12.4 and 13.6 for exponents other than 2, and one seed must give one set of draws.
 *
 * @param base 0 or more; with 0 the exponent must be positive
 */
export function power(base: number, exponent: number): number {
  return Math.exp(exponent * Math.log(base));
}
