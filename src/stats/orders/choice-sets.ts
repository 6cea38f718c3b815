import { numberAt } from '../numbers/number-at.ts';

/** A set of items and how often something was chosen from it. */
export type ChoiceSet = { readonly items: readonly number[]; readonly times: number };

/** Orders taken apart into choices: what a choice model needs to know of them, and no more. */
export type Choices = {
  /** The different sets that were chosen from, each of two items or more. */
  readonly sets: readonly ChoiceSet[];
  /** By item: how often it was chosen, a place among k tied items counting 1/k. */
  readonly chosen: Float64Array;
  /** By size: how often that many tied items were chosen at once. */
  readonly ties: ReadonlyMap<number, number>;
};

/** One order, best first, with how often it was given. */
export type WeightedOrder = {
  readonly groups: readonly (readonly number[])[];
  readonly times: number;
};

/**
 * Takes best-first orders apart into choices: the best group chosen from all, the next from the
 * rest, and so on (Luce 1959, Individual Choice Behavior; Plackett 1975, Applied Statistics
 * 24:193-202). Equal sets are counted together, since only the set and the counts matter.
 *
 * @param items how many items there are, numbered from 0
 * @param component by item, a class that choices stay in: alternatives of another class than the
 *   chosen are left out of the set. Leave out for no classes.
 */
export function choiceSets(
  orders: readonly WeightedOrder[],
  items: number,
  component?: Int32Array,
): Choices {
  const counts = new Map<string, { items: number[]; times: number }>();
  const chosen = new Float64Array(items);
  const ties = new Map<number, number>();
  for (const { groups, times } of orders) {
    let rest: number[] = [];
    for (const group of groups.toReversed()) {
      rest = [...group, ...rest];
      const set = component === undefined ? rest : sameClass(rest, group, component);
      if (set.length < 2) continue;
      for (const item of group) chosen[item] = numberAt(chosen, item) + times / group.length;
      if (group.length > 1) ties.set(group.length, (ties.get(group.length) ?? 0) + times);
      count(counts, set, times);
    }
  }
  return { sets: [...counts.values()], chosen, ties };
}

function sameClass(
  rest: readonly number[],
  group: readonly number[],
  component: Int32Array,
): number[] {
  const wanted = numberAt(component, numberAt(group, 0));
  return rest.filter((item) => numberAt(component, item) === wanted);
}

function count(
  counts: Map<string, { items: number[]; times: number }>,
  set: readonly number[],
  times: number,
): void {
  const items = [...set].sort((a, b) => a - b);
  const key = items.join();
  const known = counts.get(key);
  if (known === undefined) counts.set(key, { items, times });
  else known.times += times;
}
