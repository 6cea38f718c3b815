import { expect, test } from 'vitest';
import { type Glimpse, type QuietTimes, untilQuiet } from './quiet.ts';

const TIMES: QuietTimes = { quiet: 60, empty: 120, patience: 400, pause: 2 };
const NOT_KNOWN = async () => false;

/** Shows one look after the other, the last one for ever, and says how many were asked for. */
function looks(...list: readonly (Glimpse | undefined)[]) {
  let asked = 0;
  const look = async () => list[Math.min(asked++, list.length - 1)];
  return { look, asked: () => asked };
}

const glimpse = (size: number, stamp: string, age: number): Glimpse => ({ size, stamp, age });

test('a file that is not there, or that nobody has touched for long, is not waited for', async () => {
  for (const seen of [undefined, glimpse(10, 'a', 61), glimpse(0, 'a', 121)]) {
    const { look, asked } = looks(seen);
    expect(await untilQuiet(look, NOT_KNOWN, TIMES)).toBe(seen);
    expect(asked()).toBe(1);
  }
});

test('a file in the middle of being saved is waited for; an empty one for longer', async () => {
  const { look, asked } = looks(
    glimpse(0, 'a', 61),
    glimpse(5, 'b', 1),
    glimpse(9, 'c', 1),
    glimpse(9, 'c', 61),
  );
  expect(await untilQuiet(look, NOT_KNOWN, TIMES)).toEqual(glimpse(9, 'c', 61));
  expect(asked()).toBe(4);
});

test('where the clock of the disk is not ours, what was watched counts', async () => {
  const { look, asked } = looks(glimpse(9, 'a', -3_600_000));
  expect(await untilQuiet(look, NOT_KNOWN, TIMES)).not.toBe('restless');
  expect(asked()).toBeGreaterThan(1);
});

test('a text that is known to be whole is not waited for', async () => {
  const { look, asked } = looks(glimpse(9, 'a', 0));
  expect(await untilQuiet(look, async () => true, TIMES)).toEqual(glimpse(9, 'a', 0));
  expect(asked()).toBe(1);
});

test('a file that never rests is given up', async () => {
  let number = 0;
  const look = async () => glimpse(9, String(number++), 0);
  expect(await untilQuiet(look, NOT_KNOWN, TIMES)).toBe('restless');
});
