import { numberAt } from '../numbers/number-at.ts';
import type { WeightedOrder } from './choice-sets.ts';

/**
 * Counts the pairs within orders that each item won, a tie being half a win for both.
 *
 * @param items how many items there are, numbered from 0
 */
export function pairWins(
  orders: readonly WeightedOrder[],
  items: number,
): { readonly wins: number[]; readonly pairs: number[] } {
  const wins = new Array<number>(items).fill(0);
  const pairs = new Array<number>(items).fill(0);
  for (const { groups, times } of orders) {
    const all = groups.reduce((sum, group) => sum + group.length, 0);
    let below = all;
    for (const group of groups) {
      below -= group.length;
      for (const item of group) {
        wins[item] = numberAt(wins, item) + times * (below + (group.length - 1) / 2);
        pairs[item] = numberAt(pairs, item) + times * (all - 1);
      }
    }
  }
  return { wins, pairs };
}
