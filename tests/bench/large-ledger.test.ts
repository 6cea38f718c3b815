import { describe, expect, it } from 'vitest';
import { checkLedger } from '../../src/checks/index.ts';
import { readLedger } from '../../src/reading/read-ledger.ts';
import { growthExponent } from './bench-spending.ts';
import { LARGE, largeLedger, timesLarge } from './large-ledger.ts';

const size = timesLarge(0.05);
const files = largeLedger(size, 3);

function read() {
  const encoder = new TextEncoder();
  return readLedger(
    [...files].map(([path, text]) => {
      const bytes = encoder.encode(text);
      return { path, bytes, size: bytes.length };
    }),
  );
}

describe('largeLedger', () => {
  it('has nothing wrong with it, not even a hint', () => {
    const { ledger, diagnostics } = read();
    expect(diagnostics).toEqual([]);
    expect(ledger && checkLedger(ledger)).toEqual([]);
  });

  it('holds as much as was asked for', () => {
    const { ledger } = read();
    expect(ledger?.cultivars.size).toBe(size.cultivars);
    expect(ledger?.trees.size).toBe(size.trees);
    expect(ledger?.seasons).toHaveLength(LARGE.seasons);
    for (const { picks, counts, tastings } of ledger?.seasons ?? []) {
      expect(picks).toHaveLength(size.picks);
      expect(counts).toHaveLength(size.counts);
      expect(tastings).toHaveLength(size.tastings);
    }
  });

  it('is the same for the same seed and another for another', () => {
    expect(largeLedger(size, 3)).toEqual(files);
    expect(largeLedger(size, 4)).not.toEqual(files);
  });
});

describe('growthExponent', () => {
  it('is the power of a power law', () => {
    expect(growthExponent([1, 2, 4, 8], [3, 12, 48, 192])).toBeCloseTo(2, 12);
    expect(growthExponent([1, 2, 4], [5, 5, 5])).toBeCloseTo(0, 12);
  });
});
