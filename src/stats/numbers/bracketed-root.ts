/**
 * The x between `low` and `high` where `f` changes sign.
 *
 * Method: inverse quadratic interpolation where it is safe, bisection where it is not (Chandrupatla
 * 1997, Advances in Engineering Software 28:145-149). The bracket never opens, so it always ends.
 *
 * @param f finite and of opposite sign (or 0) at the two ends
 * @param tolerance absolute width of the bracket at which to stop
 * @throws RangeError if the signs at the ends are the same, or a value is not a number
 * @example bracketedRoot((x) => x - 2, 0, 4, 1e-12) // => 2
 */
export function bracketedRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  tolerance: number,
): number {
  let [a, fa] = [high, f(high)];
  let [b, fb] = [low, f(low)];
  if (!(fa * fb <= 0)) throw new RangeError(`no sign change between ${low} and ${high}`);
  let fraction = 0.5;
  for (let step = 0; step < 200; step++) {
    const x = a + fraction * (b - a);
    const fx = f(x);
    const sameSide = fx >= 0 === fa >= 0;
    const [c, fc] = sameSide ? [a, fa] : [b, fb];
    if (!sameSide) [b, fb] = [a, fa];
    [a, fa] = [x, fx];
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const margin = (0.5 * tolerance + 2 * Number.EPSILON * Math.abs(best)) / Math.abs(b - a);
    if (margin > 0.5 || fa === 0) return fa === 0 ? a : best;
    fraction = Math.min(1 - margin, Math.max(margin, nextFraction(a, b, c, fa, fb, fc)));
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}

function nextFraction(a: number, b: number, c: number, fa: number, fb: number, fc: number): number {
  const xi = (a - b) / (c - b);
  const phi = (fa - fb) / (fc - fb);
  if (!(phi * phi < xi && (1 - phi) ** 2 < 1 - xi)) return 0.5;
  return (
    (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
  );
}
