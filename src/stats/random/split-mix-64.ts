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
