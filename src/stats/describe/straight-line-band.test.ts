import { describe, expect, it } from 'vitest';
import { straightLineBand } from './straight-line-band.ts';

describe('straightLineBand', () => {
  const band = straightLineBand([
    [20, 1],
    [60, 7],
    [80, 10],
  ]);

  it('goes through its points, straight between them, flat beyond', () => {
    const figures = Float64Array.of(0, 20, 40, 60, 70, 80, 200);
    expect([...band(figures)]).toEqual([1, 1, 4, 7, 8.5, 10, 10]);
  });

  it('may fall', () => {
    const falling = straightLineBand([
      [0, 10],
      [1, 1],
    ]);
    expect([...falling(Float64Array.of(-1, 0.5, 2))]).toEqual([10, 5.5, 1]);
  });

  it('is flat with one point', () => {
    expect([...straightLineBand([[5, 3]])(Float64Array.of(0, 5, 9))]).toEqual([3, 3, 3]);
  });

  it('refuses no points and figures that do not ascend', () => {
    expect(() => straightLineBand([])).toThrow(RangeError);
    expect(() =>
      straightLineBand([
        [1, 1],
        [1, 2],
      ]),
    ).toThrow(RangeError);
  });
});
