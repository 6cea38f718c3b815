import { describe, expect, it } from 'vitest';
import { compositeScores } from './composite-scores.ts';

describe('compositeScores', () => {
  it('is the weighted mean of a complete row', () => {
    expect(compositeScores([[8], [6]], [3, 1], [0])).toEqual([7.5]);
  });

  it('fills a gap with the item average, moved as the rest of the row is', () => {
    // Averages of the item: 7 and 5 (only complete rows scored the second). Row 2 lies 1 above on the first.
    const rows = compositeScores(
      [
        [6, 7, 8],
        [4, 6, undefined],
      ],
      [1, 1],
      [0, 0, 0],
    );
    expect(rows).toEqual([5, 6.5, 7]);
  });

  it('does not drag an item towards the trait that happens to score high', () => {
    const rows = compositeScores(
      [
        [9, 9, 9],
        [3, undefined, undefined],
      ],
      [1, 1],
      [0, 0, 0],
    );
    expect(rows).toEqual([6, 6, 6]);
  });

  it('has nothing for an item that was never scored for a trait, nor for an empty row', () => {
    const rows = compositeScores(
      [
        [8, 7, undefined],
        [undefined, 5, undefined],
      ],
      [1, 1],
      [0, 1, 1],
    );
    expect(rows).toEqual([undefined, 6, undefined]);
  });
});
