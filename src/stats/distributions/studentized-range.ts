import { bracketedRoot } from '../numbers/bracketed-root.ts';
import { normalCdf } from './normal-cdf.ts';

/** Beyond this many standard deviations the upper tail of any range is below 1e-270. */
const GREATEST_RANGE = 50;
/** Terms smaller than this share of the sum no longer change it. */
const NEGLIGIBLE = 1e-18;
const Z_REACH = 9;

/**
 * The upper tail of the studentized range for a fixed number of groups and degrees of freedom, as a
 * function of q. Making it once and calling it often is much cheaper than many single calls.
 *
 * Formula: P(Q > q) = integral over s of f(s) U(q s), where f is the density of a standard deviation
 * on df degrees of freedom (true value 1) and U(w) is the upper tail of the range of k standard
 * normal values,
 *   U(w) = k integral over z of phi(z) [Phi(z)^(k-1) - (Phi(z) - Phi(z - w))^(k-1)]
 * (Harter 1960, Annals of Mathematical Statistics 31:1122-1147; the upper tail rather than the lower,
 * so that small probabilities keep their digits).
 * Method: the trapezoidal rule in z and in ln s, where both integrands fade out faster than any
 * power, so that it converges exponentially (Trefethen & Weideman 2014, SIAM Review 56:385-458). In
 * ln s the points do not depend on q, so each U is computed once. Within 1e-14 of independent
 * quadrature for 2 to 20 groups at 1 degree of freedom or more; within 1e-10 up to 500 groups.
 *
 * @param groups how many means, a whole number of 2 or more
 * @param df degrees of freedom of the error, above 0; Infinity for a known error
 * @throws RangeError if an argument is outside that
 */
export function studentizedRangeTail(groups: number, df: number): (q: number) => number {
  if (!(Number.isInteger(groups) && groups >= 2)) {
    throw new RangeError(`${groups} groups are not a whole number of 2 or more`);
  }
  if (!(df > 0)) throw new RangeError(`degrees of freedom ${df} are not above 0`);
  const rangeTail = normalRangeTail(groups);
  if (df === Number.POSITIVE_INFINITY) return (q) => rangeTail(requireNumber(q));

  const step = Math.min(0.09, 0.5 / Math.sqrt(2 * df));
  const known = new Map<number, number>();
  const tailAt = (index: number): number => {
    const found = known.get(index);
    if (found !== undefined) return found;
    const tail = rangeTail(Math.exp(index * step));
    known.set(index, tail);
    return tail;
  };
  const whole = sumBothWays(0, (index) => spreadWeight(index * step, df));
  return (q) => {
    if (requireNumber(q) <= 0) return 1;
    const logQ = Math.log(q);
    const start = Math.round(Math.min(logQ, Math.log(GREATEST_RANGE)) / step);
    const part = sumBothWays(start, (index) => {
      const weight = spreadWeight(index * step - logQ, df);
      return weight === 0 ? 0 : weight * tailAt(index);
    });
    return Math.min(1, part / whole);
  };
}

function requireNumber(q: number): number {
  if (Number.isNaN(q)) throw new RangeError('q is not a number');
  return q;
}

/** Density of u = ln s up to a constant: highest, at 1, where u = 0. */
function spreadWeight(u: number, df: number): number {
  return Math.exp(df * (u - Math.expm1(2 * u) / 2));
}

/** Sums a term with a single peak over all whole numbers, outward from `start`. */
function sumBothWays(start: number, term: (index: number) => number): number {
  let total = term(start);
  for (const direction of [-1, 1]) {
    let previous = total;
    for (let index = start + direction; ; index += direction) {
      const value = term(index);
      total += value;
      if (value <= NEGLIGIBLE * total && value <= previous) break;
      previous = value;
    }
  }
  return total;
}

/** U(w) of the formula above, for one number of groups. */
function normalRangeTail(groups: number): (w: number) => number {
  const power = groups - 1;
  const zStep = Math.min(0.25, 0.42 / (1 + 0.45 * Math.log(groups)));
  const below: number[] = [];
  const weight: number[] = [];
  const extend = (length: number): void => {
    for (let i = below.length; i < length; i++) {
      const z = i * zStep - Z_REACH;
      const cdf = normalCdf(z);
      below.push(cdf);
      weight.push(Math.exp(power * Math.log(cdf) - (z * z) / 2));
    }
  };
  const scale = (groups * zStep) / Math.sqrt(2 * Math.PI);
  return (w) => {
    if (w <= 0) return 1;
    if (w > GREATEST_RANGE) return 0;
    const length = Math.ceil((Z_REACH + Math.max(Z_REACH, w / 2 + Z_REACH)) / zStep);
    extend(length);
    let total = 0;
    for (let i = 0; i < length; i++) {
      const factor = weight[i] ?? 0;
      if (factor < 1e-300) continue;
      const share = normalCdf(i * zStep - Z_REACH - w) / (below[i] ?? 1);
      total -= factor * Math.expm1(power * Math.log1p(-share));
    }
    return Math.min(1, total * scale);
  };
}

/**
 * Upper tail of the studentized range: the chance that the range of `groups` means of equal
 * precision, divided by their standard error, is greater than `q` when no true means differ.
 * Formula, method and accuracy: see `studentizedRangeTail`.
 *
 * @param q 0 or above, no unit
 * @throws RangeError if an argument is outside its bounds
 * @example studentizedRangeUpper(0, 3, 10) // => 1
 */
export function studentizedRangeUpper(q: number, groups: number, df: number): number {
  return studentizedRangeTail(groups, df)(q);
}

/**
 * Quantile of the studentized range: the q that is exceeded with probability 1 - p.
 * Method: a bracketed root of the logarithm of the upper tail in ln q.
 *
 * @param p a probability above 0 and below 1, for the lower tail: 0.95 gives the 5 % point
 * @param groups how many means, a whole number of 2 or more
 * @param df degrees of freedom of the error, above 0, Infinity for a known error
 * @throws RangeError if an argument is outside that
 */
export function studentizedRangeQuantile(p: number, groups: number, df: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`probability ${p} is not between 0 and 1`);
  const tail = studentizedRangeTail(groups, df);
  const target = Math.log1p(-p);
  const excess = (logQ: number): number => {
    const upper = tail(Math.exp(logQ));
    return Math.max(Math.log(upper), -1e6) - target;
  };
  let low = Math.log(3);
  let high = low;
  for (let width = 0.5; excess(low) < 0; width *= 2) low -= width;
  for (let width = 0.5; excess(high) > 0; width *= 2) high += width;
  return Math.exp(bracketedRoot(excess, low, high, 1e-13));
}
