import { numberAt } from './number-at.ts';

/**
 * Splits items into groups that are joined, directly or through others, by sets that share them.
 *
 * Method: union-find with path halving and union by size (Tarjan 1975, Efficiency of a good but not
 * linear set union algorithm, Journal of the ACM 22:215-225).
 *
 * @param items how many items there are, numbered from 0
 * @param sets each joins all the items in it; an empty set or a set of one joins nothing
 * @returns the groups, each in ascending order, in order of their first item; an item of no set is
 *   alone
 * @throws RangeError if a set names an item that is not there
 * @example connectedGroups(4, [[0, 2], [2, 3]]) // => [[0, 2, 3], [1]]
 */
export function connectedGroups(items: number, sets: Iterable<readonly number[]>): number[][] {
  const parent = Int32Array.from({ length: items }, (_, item) => item);
  const size = new Int32Array(items).fill(1);
  for (const set of sets) {
    for (const item of set) join(parent, size, numberAt(set, 0), item);
  }
  const groups = new Map<number, number[]>();
  for (let item = 0; item < items; item++) {
    const root = rootOf(parent, item);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

function rootOf(parent: Int32Array, item: number): number {
  let at = item;
  while (numberAt(parent, at) !== at) {
    const grandparent = numberAt(parent, numberAt(parent, at));
    parent[at] = grandparent;
    at = grandparent;
  }
  return at;
}

function join(parent: Int32Array, size: Int32Array, one: number, other: number): void {
  const a = rootOf(parent, one);
  const b = rootOf(parent, other);
  if (a === b) return;
  const [large, small] = numberAt(size, a) >= numberAt(size, b) ? [a, b] : [b, a];
  parent[small] = large;
  size[large] = numberAt(size, large) + numberAt(size, small);
}
