import { numberAt } from '../numbers/number-at.ts';
import { stronglyConnected } from '../numbers/strongly-connected.ts';
import type { WeightedOrder } from './choice-sets.ts';

/**
 * Which items beat each other in a circle, and which circles stand above others without exception.
 */
export type WinComponents = {
  /**
   * Groups of items; within a group a chain of wins or ties leads from every item to every other.
   */
  readonly components: readonly (readonly number[])[];
  /** `above[g][h]`: a chain of wins leads from group g to group h, and so none from h to g. */
  readonly above: readonly (readonly boolean[])[];
};

/**
 * Strongly connected components of the graph in which an item points to all that it was placed
 * above or tied with. Worths are finite, and comparable without a prior, only within a component
 * (Ford 1957, American Mathematical Monthly 64(8, part 2):28-33; Hunter 2004, Annals of Statistics
 * 32:384-406, assumption 1).
 *
 * @param orders best-first orders, a group of several being a tie
 * @param items how many items there are
 * @returns the components, none after one that it is above
 */
export function winComponents(
  orders: Iterable<readonly (readonly number[])[]>,
  items: number,
): WinComponents {
  const beats = Array.from({ length: items }, () => new Set<number>());
  for (const order of orders) {
    order.forEach((group, place) => {
      // Being above the next group is enough: chains give the rest.
      const below = order[place + 1] ?? [];
      for (const [i, item] of group.entries()) {
        const tied = numberAt(group, (i + 1) % group.length);
        for (const other of [tied, ...below]) if (other !== item) beats[item]?.add(other);
      }
    });
  }
  const components = stronglyConnected(beats.map((set) => [...set]));
  return { components, above: reachable(components, beats) };
}

function reachable(
  components: readonly (readonly number[])[],
  beats: readonly ReadonlySet<number>[],
): boolean[][] {
  const componentOf = new Int32Array(beats.length);
  components.forEach((component, g) => {
    for (const item of component) componentOf[item] = g;
  });
  const above = components.map(() => new Array<boolean>(components.length).fill(false));
  // A component reaches only later ones, so going backwards every target is already complete.
  for (let g = components.length - 1; g >= 0; g--) {
    const row = above[g] ?? [];
    for (const item of components[g] ?? []) {
      for (const other of beats[item] ?? []) {
        const h = numberAt(componentOf, other);
        if (h === g || row[h]) continue;
        row[h] = true;
        above[h]?.forEach((reached, further) => {
          if (reached) row[further] = true;
        });
      }
    }
  }
  return above;
}

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
