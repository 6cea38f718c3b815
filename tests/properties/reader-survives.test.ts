import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mutated } from '../support/mutations.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import { REPORTS, troubleWith } from '../support/trouble-with.ts';

describe('a ledger broken at random', () => {
  it('starts from one that nothing is wrong with, and that every report can read', async () => {
    expect(REPORTS.length).toBeGreaterThan(5);
    for (const turn of [0, 1, 2, 3, 4, 5, 6, 7]) {
      expect(await troubleWith(SMALL_EXAMPLE, turn, true)).toBeUndefined();
    }
  });

  it('is never more than told where it is broken, and never shows a figure that is none', async () => {
    let looked = 0;
    await fc.assert(
      fc.asyncProperty(mutated(SMALL_EXAMPLE), fc.nat({ max: 999 }), async (files, turn) => {
        expect(await troubleWith(files, turn, true)).toBeUndefined();
        looked++;
      }),
      // A slow computer looks at fewer; tests/bench/fuzz.ts looks at as many as are asked for.
      { numRuns: 1_000, seed: 20_260_729, interruptAfterTimeLimit: 20_000 },
    );
    expect(looked).toBeGreaterThan(100);
  });
});
