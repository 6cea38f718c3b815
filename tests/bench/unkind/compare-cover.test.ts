import { describe, expect, it } from 'vitest';
import { GARDEN_KINDS } from './garden-kinds.ts';
import { addCompare, grow } from './garden-tally.ts';

const GARDENS = 6;
const MINUTES = 120_000;

describe('compare in a garden of another make', () => {
  // Nominal 90 %. Least squares and Newcombe, which take plates and fruit for all there is, hold some 60 % of tasted
  // traits and three quarters of soundness here.
  it('holds the truth of every row about as often as it says', { timeout: MINUTES }, () => {
    const held = new Map<string, number[]>();
    const [plain] = GARDEN_KINDS;
    for (let garden = 0; garden < GARDENS; garden++) {
      if (plain !== undefined) addCompare(held, grow(plain, 900 + garden));
    }
    expect([...held.keys()].toSorted()).toEqual(
      ['flavour', 'index', 'productivity', 'size', 'soundness', 'sweetness'].toSorted(),
    );
    for (const [part, shares] of held) {
      const cover = shares.reduce((sum, one) => sum + one) / shares.length;
      expect(cover, part).toBeGreaterThan(0.8);
    }
  });
});
