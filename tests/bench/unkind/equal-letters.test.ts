import { expect, it } from 'vitest';
import { EQUAL_KINDS } from './garden-kinds.ts';
import { equalTally } from './garden-tally.ts';

const MINUTES = 120_000;

// `npm run calibrate` prints more gardens. With plates alone for error, a quarter of these tables told equals apart.
it.each(EQUAL_KINDS)(
  'scores tell equal cultivars apart in few tables: $name',
  {
    timeout: MINUTES,
  },
  async (kind) => {
    const { tables, byLetters, byF } = await equalTally(kind, 20, 43_000);
    expect(tables).toBe(40);
    expect(byLetters).toBeLessThanOrEqual(5);
    expect(byF).toBeLessThanOrEqual(6);
  },
);
