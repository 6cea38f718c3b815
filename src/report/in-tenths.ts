/**
 * A chance as people say it: "7 in 10", "more than 9 in 10". Never all of ten, which would be a
 * promise, and never none.
 *
 * @param chance a fraction
 */
export function inTenths(chance: number): string {
  if (chance >= 0.95) return 'more than 9 in 10';
  if (chance < 0.05) return 'less than 1 in 10';
  return `${Math.max(1, Math.round(10 * chance))} in 10`;
}
