import { power } from '../numbers/power.ts';
import { splitMix64 } from './split-mix-64.ts';
import { xoshiro128 } from './xoshiro128.ts';

/** A stream of random numbers that one seed fixes for good, on every machine. */
export type SeededRandom = {
  /** Uniform on [0, 1), in steps of 2^-53. */
  uniform(): number;
  /** Standard normal, by the polar method (Marsaglia and Bray 1964, SIAM Review 6:260-264). */
  normal(): number;
  /** Uniform on the integers 0 to n - 1 without bias; n is 1 to 2^32. */
  integer(n: number): number;
  /** Gamma of scale 1 and the given shape > 0 (Marsaglia and Tsang 2000, ACM TOMS 26:363-372). */
  gamma(shape: number): number;
  /** A new array with the values in random order (Durstenfeld 1964, CACM 7:420). */
  shuffle<T>(values: readonly T[]): T[];
};

/**
 * Random numbers from a seed: xoshiro128** (Blackman and Vigna 2021, ACM TOMS 47(4):36), its state
 * filled from the seed by SplitMix64 (low half of a word first).
 *
 * @param seed a whole number, 0 to 2^53 - 1
 * @throws RangeError for any other seed, and from the draws for an impossible `n` or `shape`
 */
export function seededRandom(seed: number): SeededRandom {
  if (!Number.isSafeInteger(seed) || seed < 0) {
    throw new RangeError(`a seed is a whole number from 0 to 2^53 - 1, not ${seed}`);
  }
  const next = seededWords(seed);
  // 27 high bits of one word above 26 high bits of the next make the 53 bits of a double.
  const uniform = () => ((next() >>> 5) * 2 ** 26 + (next() >>> 6)) / 2 ** 53;
  const normal = polarNormal(uniform);
  const integer = (n: number) => unbiasedInteger(next, n);
  return {
    uniform,
    normal,
    integer,
    gamma: (shape) => gammaDraw(uniform, normal, shape),
    shuffle: (values) => shuffled(integer, values),
  };
}

function seededWords(seed: number): () => number {
  const word = splitMix64(BigInt(seed));
  const [first, second] = [word(), word()];
  const low = (value: bigint) => Number(value & 0xffffffffn);
  const high = (value: bigint) => Number(value >> 32n);
  // SplitMix64 is a bijection of a counter, so two words in a row are never both zero.
  return xoshiro128([low(first), high(first), low(second), high(second)]);
}

function polarNormal(uniform: () => number): () => number {
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * scale;
      return x * scale;
    }
  };
}

function unbiasedInteger(next: () => number, n: number): number {
  if (!Number.isInteger(n) || n < 1 || n > 2 ** 32) {
    throw new RangeError(`a random integer needs a whole number from 1 to 2^32, not ${n}`);
  }
  // Words past the last full run of n are drawn again: a plain remainder would favour small
  // integers.
  const limit = 2 ** 32 - (2 ** 32 % n);
  for (;;) {
    const word = next();
    if (word < limit) return word % n;
  }
}

function gammaDraw(uniform: () => number, normal: () => number, shape: number): number {
  if (!(shape > 0) || !Number.isFinite(shape)) {
    throw new RangeError(`a gamma shape is a positive number, not ${shape}`);
  }
  // Below 1, a draw of shape + 1 times u^(1/shape) has the right distribution (their section 6).
  if (shape < 1) return gammaDraw(uniform, normal, shape + 1) * power(1 - uniform(), 1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal();
    const root = 1 + c * x;
    if (root <= 0) continue;
    const v = root * root * root;
    // 1 - u is in (0, 1], so its logarithm is finite.
    if (Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

function shuffled<T>(integer: (n: number) => number, values: readonly T[]): T[] {
  const order = [...values];
  for (let last = order.length - 1; last > 0; last--) {
    const at = integer(last + 1);
    const moved = order[at] as T;
    order[at] = order[last] as T;
    order[last] = moved;
  }
  return order;
}
