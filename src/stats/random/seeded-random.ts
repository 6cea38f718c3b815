import { power } from '../numbers/power.ts';
import { Xoshiro128 } from './xoshiro128.ts';

/** A stream of random numbers that one seed fixes for good, on every machine. */
export class SeededRandom {
  readonly #words: Xoshiro128;
  /** The polar method draws normals in pairs: the second of a pair, while there is one. */
  readonly #spare = new Float64Array(1);
  #hasSpare = false;
  readonly #one = new Float64Array(1);
  readonly #pair = new Float64Array(2);

  /** @param words 32-bit words, each as likely as any other */
  constructor(words: Xoshiro128) {
    this.#words = words;
  }

  /** Uniform on [0, 1), in steps of 2^-53. */
  uniform(): number {
    this.#words.uniforms(this.#pair, 1);
    return this.#pair[0] as number;
  }

  /** Standard normal, by the polar method (Marsaglia and Bray 1964, SIAM Review 6:260-264). */
  normal(): number {
    this.normals(this.#one, 1);
    return this.#one[0] as number;
  }

  /** So many standard normals one after another, put into an array: where many are wanted that is cheaper. */
  normals(into: Float64Array, count: number): void {
    const pair = this.#pair;
    let at = 0;
    if (this.#hasSpare && count > 0) {
      into[at++] = this.#spare[0] as number;
      this.#hasSpare = false;
    }
    while (at < count) {
      this.#words.uniforms(pair, 2);
      const x = 2 * (pair[0] as number) - 1;
      const y = 2 * (pair[1] as number) - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      into[at++] = x * scale;
      if (at < count) into[at++] = y * scale;
      else {
        this.#spare[0] = y * scale;
        this.#hasSpare = true;
      }
    }
  }

  /** Uniform on the integers 0 to n - 1 without bias; n is 1 to 2^32. */
  integer(n: number): number {
    if (!Number.isInteger(n) || n < 1 || n > 2 ** 32) {
      throw new RangeError(`a random integer needs a whole number from 1 to 2^32, not ${n}`);
    }
    // Words past the last full run of n are drawn again: a plain remainder would favour small
    // integers.
    const limit = 2 ** 32 - (2 ** 32 % n);
    for (;;) {
      const word = this.#words.next();
      if (word < limit) return word % n;
    }
  }

  /** Gamma of scale 1 and the given shape > 0 (Marsaglia and Tsang 2000, ACM TOMS 26:363-372). */
  gamma(shape: number): number {
    if (!(shape > 0) || !Number.isFinite(shape)) {
      throw new RangeError(`a gamma shape is a positive number, not ${shape}`);
    }
    // Below 1, a draw of shape + 1 times u^(1/shape) has the right distribution (their section 6).
    if (shape < 1) return this.gamma(shape + 1) * power(1 - this.uniform(), 1 / shape);
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = this.normal();
      const root = 1 + c * x;
      if (root <= 0) continue;
      const v = root * root * root;
      // 1 - u is in (0, 1], so its logarithm is finite.
      if (Math.log(1 - this.uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
    }
  }

  /** A new array with the values in random order (Durstenfeld 1964, CACM 7:420). */
  shuffle<T>(values: readonly T[]): T[] {
    const order = [...values];
    for (let last = order.length - 1; last > 0; last--) {
      const at = this.integer(last + 1);
      const moved = order[at] as T;
      order[at] = order[last] as T;
      order[last] = moved;
    }
    return order;
  }
}

/** A source of standard normals. */
export type Normals = Pick<SeededRandom, 'normals'>;

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
  const word = splitMix64(BigInt(seed));
  const [first, second] = [word(), word()];
  const low = (value: bigint) => Number(value & 0xffffffffn);
  const high = (value: bigint) => Number(value >> 32n);
  // SplitMix64 is a bijection of a counter, so two words in a row are never both zero.
  return new SeededRandom(new Xoshiro128([low(first), high(first), low(second), high(second)]));
}

const MASK_64 = (1n << 64n) - 1n;

/**
 * SplitMix64: spreads one integer over a stream of well mixed 64-bit words, here to seed a larger
 * generator.
 *
 * Source: Steele, Lea and Flood 2014, Fast splittable pseudorandom number generators, OOPSLA
 * '14:453-472, with the mixing constants of Stafford's variant 13, as Blackman and Vigna recommend
 * for seeding.
 *
 * @param seed any integer; its lowest 64 bits are used
 * @returns a function that gives the next word, 0 to 2^64 - 1
 */
export function splitMix64(seed: bigint): () => bigint {
  let state = seed & MASK_64;
  return () => {
    state = (state + 0x9e3779b97f4a7c15n) & MASK_64;
    let word = state;
    word = ((word ^ (word >> 30n)) * 0xbf58476d1ce4e5b9n) & MASK_64;
    word = ((word ^ (word >> 27n)) * 0x94d049bb133111ebn) & MASK_64;
    return word ^ (word >> 31n);
  };
}
