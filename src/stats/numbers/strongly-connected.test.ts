import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stronglyConnected } from './strongly-connected.ts';

const graphs = fc.integer({ min: 1, max: 12 }).chain((nodes) =>
  fc.array(fc.array(fc.integer({ min: 0, max: nodes - 1 }), { maxLength: 4 }), {
    minLength: nodes,
    maxLength: nodes,
  }),
);

/**
 * Reachability by repeated squaring of the idea "one step more" (Warshall), another way to the same
 * answer.
 */
function reaches(edges: readonly (readonly number[])[]): boolean[][] {
  const n = edges.length;
  const can = edges.map((targets, i) =>
    Array.from({ length: n }, (_, j) => i === j || targets.includes(j)),
  );
  for (let via = 0; via < n; via++) {
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        if (can[i]?.[via] && can[via]?.[j]) (can[i] as boolean[])[j] = true;
      }
    }
  }
  return can;
}

describe('stronglyConnected', () => {
  it('joins a cycle and leaves what hangs on it apart', () => {
    expect(stronglyConnected([[1], [2], [0, 3], [4], [3], []])).toEqual([[5], [0, 1, 2], [3, 4]]);
    expect(stronglyConnected([])).toEqual([]);
    expect(() => stronglyConnected([[1]])).toThrow(RangeError);
  });

  it('agrees with reachability worked out pair by pair, the reaching before the reached', () => {
    fc.assert(
      fc.property(graphs, (edges) => {
        const can = reaches(edges);
        const components = stronglyConnected(edges);
        expect(components.flat().sort((a, b) => a - b)).toEqual(edges.map((_, node) => node));
        components.forEach((component, place) => {
          for (const node of component) {
            const mates = edges.flatMap((_, other) =>
              can[node]?.[other] && can[other]?.[node] ? [other] : [],
            );
            expect(component).toEqual(mates);
            for (const earlier of components.slice(0, place).flat()) {
              expect(can[node]?.[earlier]).toBe(false);
            }
          }
        });
      }),
    );
  });

  it('follows a chain of 200,000 without running out of stack', () => {
    const chain = Array.from({ length: 200_000 }, (_, i) => (i < 199_999 ? [i + 1] : []));
    expect(stronglyConnected(chain)).toHaveLength(200_000);
    const ring = chain.map((targets) => (targets.length > 0 ? targets : [0]));
    expect(stronglyConnected(ring)).toHaveLength(1);
  });
});
