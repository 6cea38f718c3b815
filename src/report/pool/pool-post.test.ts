import { expect, it } from 'vitest';
import type { Pooled } from '../../judge/pool/pool-crops.ts';
import { poolVerdict } from './pool-post.ts';

const MARKS = { minSeasons: 3, minTastings: 4, increaseAbove: 7, discardBelow: 5 };
const two = [
  { garden: 0, index: 6 },
  { garden: 1, index: 6 },
];
const judged = (newLow: number, newHigh: number, rest: Partial<Pooled> = {}) =>
  poolVerdict({ newLow, newHigh, at: two, seasons: 3, tastings: 4, ...rest } as Pooled, MARKS);

it('goes by what a garden that is not among them can expect', () => {
  expect(judged(7.1, 9).verdict).toBe('increase');
  expect(judged(5.1, 9).verdict).toBe('retain');
  expect(judged(4.9, 9)).toEqual({ verdict: 'watch', waits: 'may go either way' });
  expect(judged(2, 4.9).verdict).toBe('discard');
});

it('watches what one garden alone judged, or too seldom', () => {
  expect(judged(7.1, 9, { at: two.slice(1) }).waits).toBe('judged in one garden');
  expect(judged(2, 4.9, { seasons: 2 }).waits).toBe('too few seasons');
  expect(judged(7.1, 9, { tastings: 3 }).waits).toBe('too few tastings');
});
