// The exact distribution of Friedman's statistic against its published tables.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { friedman } from '../../src/stats/ranks/friedman.ts';
import { friedmanChance } from '../../src/stats/ranks/friedman-chance.ts';

interface Critical {
  readonly k: number;
  readonly n: number;
  readonly at5: number | null;
  readonly at1: number | null;
}

const { values }: { values: readonly Critical[] } = JSON.parse(
  readFileSync(new URL('friedman-critical-values.json', import.meta.url), 'utf8'),
);

/** Every value that the statistic takes without ties, with the chance of it or a greater one. */
function chances(k: number, n: number): ReadonlyMap<number, number> {
  const found = new Map<number, number>();
  const orders = permutations(Array.from({ length: k }, (_, at) => at + 1));
  // A walk over random tables finds all that are not very rare; the rarest is full agreement.
  let state = 12345;
  const random = (below: number) => {
    state = (state * 1103515245 + 12345) % 2147483648;
    return Math.floor((state / 2147483648) * below);
  };
  for (let table = 0; table < 400; table++) {
    const sameFor = random(n + 1);
    const rows = Array.from({ length: n }, (_, row) =>
      row < sameFor ? (orders[0] ?? []) : (orders[random(orders.length)] ?? []),
    );
    const statistic = friedman(rows)?.chiSquare ?? Number.NaN;
    const key = Number(statistic.toFixed(6));
    if (!found.has(key)) found.set(key, friedmanChance(rows) ?? Number.NaN);
  }
  return found;
}

function permutations(items: readonly number[]): number[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((item) =>
    permutations(items.filter((one) => one !== item)).map((rest) => [item, ...rest]),
  );
}

describe.each(values)('$k treatments in $n blocks', ({ k, n, at5, at1 }) => {
  const found = chances(k, n);

  it.each([
    [0.05, at5],
    [0.01, at1],
  ])('at %d the printed value, and not the next smaller one, is rare enough', (level, printed) => {
    const critical = printed ?? Number.POSITIVE_INFINITY;
    for (const [statistic, chance] of found) {
      // Printed to four figures: 10.13 stands for 10.1333.
      const isReached = statistic >= critical - 0.006;
      expect(chance <= level, `${statistic}: ${chance}`).toBe(isReached);
    }
  });
});

// Friedman 1937, as Siegel 1956, table N, prints it for 3 treatments in 3 and 4 blocks; from memory,
// and each a whole number of the 36 and 216 equally likely ways.
it.each([
  ['123 123 123', 0.028],
  ['123 123 132', 0.194],
  ['123 123 123 123', 0.0046],
  ['123 123 123 132', 0.042],
  ['123 231 312', 1],
])('%s has the printed chance', (rows, printed) => {
  const table = rows.split(' ').map((row) => [...row].map(Number));
  expect(Math.abs((friedmanChance(table) ?? 0) - printed)).toBeLessThan(5e-4);
});
