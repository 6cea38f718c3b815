import { describe, expect, it } from 'vitest';
import { indexSummary } from './index-summary.ts';

describe('indexSummary', () => {
  it('tells mean and central quantiles of type 7', () => {
    // 0 to 100 evenly: the quantile p is 100 p.
    const draws = Float64Array.from({ length: 101 }, (_, k) => (k * 37) % 101);
    const [one] = indexSummary([draws], { level: 0.9, top: 1 });
    expect(one?.estimate).toBeCloseTo(50, 12);
    expect(one?.low).toBeCloseTo(5, 12);
    expect(one?.high).toBeCloseTo(95, 12);
    expect(one).toMatchObject({ rankLow: 1, rankHigh: 1, topShare: 1 });
  });

  it('keeps figures to the scale, and ranks by what was drawn beyond it', () => {
    const first = Float64Array.of(9, 10, 11, 12);
    const second = Float64Array.of(8.9, 9.9, 10.9, 11.9);
    const [a, b] = indexSummary([first, second], {
      level: 0.5,
      top: 1,
      scale: { low: 1, high: 10 },
    });
    expect(a).toMatchObject({ estimate: 10, low: 9.75, high: 10, topShare: 1 });
    expect(b).toMatchObject({ high: 10, topShare: 0 });
  });

  it('ranks draw by draw, the greatest first', () => {
    // Ranks of the first item over ten draws: 1 nine times, 2 once.
    const first = Float64Array.of(5, 5, 5, 5, 5, 5, 5, 5, 5, 1);
    const second = new Float64Array(10).fill(3);
    const [a, b] = indexSummary([first, second], { level: 0.9, top: 1 });
    expect(a).toMatchObject({ rankLow: 1, rankHigh: 1, topShare: 0.9 });
    expect(b).toMatchObject({ rankLow: 2, rankHigh: 2, topShare: 0.1 });
  });

  it('takes the shortest run of ranks that holds the level, the fullest of equally short ones', () => {
    // Ranks of the third item: 1 once, 2 four times, 3 five times.
    const third = Float64Array.of(9, 5, 5, 5, 5, 1, 1, 1, 1, 1);
    const high = new Float64Array(10).fill(8);
    const low = new Float64Array(10).fill(3);
    const at = (level: number) => indexSummary([high, low, third], { level, top: 2 })[2];
    expect(at(0.9)).toMatchObject({ rankLow: 2, rankHigh: 3 });
    expect(at(0.95)).toMatchObject({ rankLow: 1, rankHigh: 3 });
    expect(at(0.5)).toMatchObject({ rankLow: 3, rankHigh: 3 });
    expect(at(0.9)?.topShare).toBeCloseTo(0.5, 12);
  });

  it('ranks only what has an index', () => {
    const [a, b, c] = indexSummary([Float64Array.of(1), undefined, Float64Array.of(2)], {
      level: 0.9,
      top: 1,
    });
    expect(a?.rankLow).toBe(2);
    expect(b).toBeUndefined();
    expect(c?.rankLow).toBe(1);
  });
});
