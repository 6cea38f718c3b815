import { expect, it } from 'vitest';
import { GARDEN_KINDS } from './garden-kinds.ts';
import { type SeenRow, seenRows } from './seen-tally.ts';

const GARDENS = 15;
const MINUTES = 120_000;

// Nominal 90 %. Taken by the spread between trees alone, as if every row had as many fruit, rows of fewer than 8 fruit
// hold some two thirds.
it.each(['young trees', 'alternate bearing', 'trees very unlike'])(
  'yield and weights hold what is true of trees like those seen: %s',
  { timeout: MINUTES },
  async (name) => {
    const kind = GARDEN_KINDS.find((one) => one.name === name);
    const rows = kind === undefined ? [] : await seenRows(kind, GARDENS, 1100);
    const cover = (isOf: (row: SeenRow) => boolean) => {
      const own = rows.filter(isOf);
      return own.filter(({ holds }) => holds).length / own.length;
    };
    for (const part of ['productivity', 'size'] as const) {
      expect(
        cover((row) => row.part === part && row.by === 'cultivar'),
        part,
      ).toBeGreaterThan(0.84);
      expect(
        cover((row) => row.part === part && row.fruit < 8),
        `few, ${part}`,
      ).toBeGreaterThan(0.84);
    }
  },
);
