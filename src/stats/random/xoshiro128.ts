/** The four 32-bit words of the generator's state; not all zero. */
export type Xoshiro128State = readonly [number, number, number, number];

/**
 * The generator xoshiro128** 1.1: 32-bit words of period 2^128 - 1.
 *
 * Source: Blackman and Vigna 2021, Scrambled linear pseudorandom number generators, ACM
 * Transactions on Mathematical Software 47(4):36.
 */
export class Xoshiro128 {
  readonly #state: Int32Array;

  /**
   * @param state four unsigned 32-bit integers, not all zero
   * @throws RangeError if the state is all zero
   */
  constructor(state: Xoshiro128State) {
    this.#state = Int32Array.from(state);
    if (this.#state.every((word) => word === 0)) {
      throw new RangeError('the state of xoshiro128** must not be all zero');
    }
  }

  /** The next word, an integer 0 to 2^32 - 1. */
  next(): number {
    const state = this.#state;
    const a = state[0] as number;
    const b = state[1] as number;
    const c = (state[2] as number) ^ a;
    const d = (state[3] as number) ^ b;
    state[0] = a ^ d;
    state[1] = b ^ c;
    state[2] = c ^ (b << 9);
    state[3] = rotateLeft(d, 11);
    return Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
  }

  /**
   * Puts so many numbers into an array, uniform on [0, 1) in steps of 2^-53, each from two words: 27 high bits of the
   * first above 26 high bits of the second. No number leaves a register on the way, which is much cheaper where a
   * model draws millions.
   */
  uniforms(into: Float64Array, count: number): void {
    const state = this.#state;
    let a = state[0] as number;
    let b = state[1] as number;
    let c = state[2] as number;
    let d = state[3] as number;
    let high = 0;
    for (let word = 0; word < 2 * count; word++) {
      const scrambled = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9);
      c ^= a;
      d ^= b;
      const shifted = b << 9;
      b ^= c;
      a ^= d;
      c ^= shifted;
      d = rotateLeft(d, 11);
      if ((word & 1) === 0) high = scrambled >>> 5;
      else into[word >>> 1] = (high * 2 ** 26 + (scrambled >>> 6)) / 2 ** 53;
    }
    state[0] = a;
    state[1] = b;
    state[2] = c;
    state[3] = d;
  }
}

function rotateLeft(word: number, places: number): number {
  return (word << places) | (word >>> (32 - places));
}
