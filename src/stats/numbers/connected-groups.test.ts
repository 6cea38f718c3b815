import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { connectedGroups } from './connected-groups.ts';
import { stronglyConnected } from './strongly-connected.ts';

describe('connectedGroups', () => {
  it('joins through shared items and leaves others alone', () => {
    expect(connectedGroups(6, [[5, 1], [], [1, 3], [2]])).toEqual([[0], [1, 3, 5], [2], [4]]);
    expect(connectedGroups(0, [])).toEqual([]);
    expect(() => connectedGroups(2, [[0, 2]])).toThrow(RangeError);
  });

  it('agrees with strong connection in the graph with every link both ways', () => {
    const item = fc.integer({ min: 0, max: 9 });
    fc.assert(
      fc.property(fc.array(fc.array(item, { maxLength: 3 }), { maxLength: 6 }), (sets) => {
        const edges = Array.from({ length: 10 }, (_, node) =>
          sets.filter((set) => set.includes(node)).flat(),
        );
        const byFirst = (a: number[], b: number[]) => (a[0] ?? 0) - (b[0] ?? 0);
        expect(connectedGroups(10, sets)).toEqual(stronglyConnected(edges).sort(byFirst));
      }),
    );
  });
});
