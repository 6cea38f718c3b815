/**
 * Refuses numbers that are not finite, so that no statistic can hand out NaN or Infinity.
 *
 * @param what what the numbers are, for the message
 * @throws RangeError on NaN or an infinity: whoever called let it through
 */
export function requireFinite(what: string, values: Iterable<number>): void {
  for (const value of values) {
    if (!Number.isFinite(value)) throw new RangeError(`${what}: ${value} is not a finite number`);
  }
}
