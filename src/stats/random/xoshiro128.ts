/** The four 32-bit words of the generator's state; not all zero. */
export type Xoshiro128State = readonly [number, number, number, number];

/**
 * The generator xoshiro128** 1.1: 32-bit words of period 2^128 - 1.
 *
 * Source: Blackman and Vigna 2021, Scrambled linear pseudorandom number generators, ACM
 * Transactions on Mathematical Software 47(4):36.
 *
 * @param state four unsigned 32-bit integers, not all zero
 * @returns a function that gives the next word, an integer 0 to 2^32 - 1
 * @throws RangeError if the state is all zero
 */
export function xoshiro128(state: Xoshiro128State): () => number {
  let [a, b, c, d] = state.map((word) => word | 0) as [number, number, number, number];
  if ((a | b | c | d) === 0) throw new RangeError('the state of xoshiro128** must not be all zero');
  return () => {
    const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotateLeft(d, 11);
    return result;
  };
}

function rotateLeft(word: number, places: number): number {
  return (word << places) | (word >>> (32 - places));
}
