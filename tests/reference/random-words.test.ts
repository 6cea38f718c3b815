import { expect, it } from 'vitest';
import { splitMix64 } from '../../src/stats/random/seeded-random.ts';
import { Xoshiro128 } from '../../src/stats/random/xoshiro128.ts';

it('xoshiro128** gives the words of its authors’ C code', () => {
  // Output of xoshiro128starstar.c version 1.1 (Blackman and Vigna, https://prng.di.unimi.it/) from
  // the state 1, 2, 3, 4, as printed in the tests of the Rust crate rand_xoshiro.
  const random = new Xoshiro128([1, 2, 3, 4]);
  const words = Array.from({ length: 10 }, () => random.next());
  expect(words).toEqual([
    11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597,
    4258142804,
  ]);
});

it('xoshiro128** refuses the one state it cannot leave', () => {
  expect(() => new Xoshiro128([0, 0, 0, 0])).toThrow(RangeError);
});

it('SplitMix64 gives the published words', () => {
  // Rosetta Code, Pseudo-random numbers/Splitmix64: the first five words from the seed 1234567.
  const next = splitMix64(1234567n);
  expect(Array.from({ length: 5 }, next)).toEqual([
    6457827717110365317n,
    3203168211198807973n,
    9817491932198370423n,
    4593380528125082431n,
    16408922859458223821n,
  ]);
});
