import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compactLetters } from './compact-letters.ts';

const never = () => false;
const parts = (text: string): string[] => text.match(/[a-zA-Z]\d*/g) ?? [];

describe('compactLetters', () => {
  it('gives one letter to all where nothing differs, one each where all do', () => {
    expect(compactLetters(never, [2, 0, 1])).toEqual(['a', 'a', 'a']);
    expect(compactLetters(() => true, [2, 0, 1])).toEqual(['a', 'b', 'c']);
    expect(compactLetters(never, [])).toEqual([]);
  });

  it('goes on with capitals, then with a number, after z', () => {
    const order = Array.from({ length: 54 }, (_, i) => i);
    const letters = compactLetters(() => true, order);
    expect([letters[25], letters[26], letters[51], letters[52], letters[53]]).toEqual([
      'z',
      'A',
      'Z',
      'a1',
      'b1',
    ]);
  });

  it('lets two share a letter if and only if they do not differ, whatever differs', () => {
    const graphs = fc.integer({ min: 1, max: 9 }).chain((size) =>
      fc.record({
        order: fc.shuffledSubarray(
          Array.from({ length: size }, (_, i) => i),
          { minLength: size, maxLength: size },
        ),
        edges: fc.array(fc.boolean(), { minLength: size * size, maxLength: size * size }),
      }),
    );
    fc.assert(
      fc.property(graphs, ({ order, edges }) => {
        const differs = (i: number, j: number): boolean =>
          edges[Math.min(i, j) * order.length + Math.max(i, j)] === true;
        const letters = compactLetters(differs, order).map(parts);
        for (const [low, i] of order.entries()) {
          expect(letters[low]?.length).toBeGreaterThan(0);
          for (const [high, j] of order.entries()) {
            if (i === j) continue;
            const shares = letters[low]?.some((each) => letters[high]?.includes(each));
            expect(shares).toBe(!differs(i, j));
          }
        }
      }),
    );
  });

  it('stays quick with 100 treatments in a long chain', () => {
    const order = Array.from({ length: 100 }, (_, i) => i);
    const started = performance.now();
    const letters = compactLetters((i, j) => Math.abs(i - j) > 8 + (i % 5), order);
    expect(performance.now() - started).toBeLessThan(5000);
    expect(letters[0]).toBe('a');
  });
});
