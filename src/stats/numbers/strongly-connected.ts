import { numberAt } from './number-at.ts';

/**
 * Strongly connected components of a directed graph: two nodes are together if each can reach the
 * other.
 *
 * Method: Tarjan 1972, Depth-first search and linear graph algorithms, SIAM Journal on Computing
 * 1:146-160, with an explicit stack, so that a long chain does not overflow the call stack.
 *
 * @param edges for each node the nodes that it points to; repeats and loops are allowed
 * @returns the components, each in ascending order; a component comes before every other that it
 *   can reach
 * @throws RangeError if an edge points to a node that is not there
 * @example stronglyConnected([[1], [0, 2], []]) // => [[0, 1], [2]]
 */
export function stronglyConnected(edges: readonly (readonly number[])[]): number[][] {
  const search: Search = {
    edges,
    found: new Int32Array(edges.length).fill(-1),
    lowest: new Int32Array(edges.length),
    open: new Uint8Array(edges.length),
    stack: [],
    components: [],
    clock: 0,
  };
  for (let node = 0; node < edges.length; node++) {
    if (numberAt(search.found, node) < 0) explore(search, node);
  }
  // A component is closed only after all that it reaches.
  return search.components.reverse();
}

type Search = {
  readonly edges: readonly (readonly number[])[];
  /** When a node was found, -1 if not yet. */
  readonly found: Int32Array;
  /** The earliest found node still open that a node is known to reach. */
  readonly lowest: Int32Array;
  readonly open: Uint8Array;
  readonly stack: number[];
  readonly components: number[][];
  clock: number;
};

type Visit = { readonly node: number; next: number };

function explore(search: Search, start: number): void {
  const path: Visit[] = [enter(search, start)];
  for (let visit = path.at(-1); visit !== undefined; visit = path.at(-1)) {
    const target = search.edges[visit.node]?.[visit.next];
    if (target === undefined) {
      path.pop();
      leave(search, visit.node, path.at(-1)?.node);
      continue;
    }
    visit.next++;
    if (numberAt(search.found, target) < 0) path.push(enter(search, target));
    else if (numberAt(search.open, target) === 1) {
      lower(search, visit.node, numberAt(search.found, target));
    }
  }
}

function enter(search: Search, node: number): Visit {
  search.found[node] = search.clock;
  search.lowest[node] = search.clock;
  search.clock++;
  search.open[node] = 1;
  search.stack.push(node);
  return { node, next: 0 };
}

function leave(search: Search, node: number, parent: number | undefined): void {
  const lowest = numberAt(search.lowest, node);
  if (parent !== undefined) lower(search, parent, lowest);
  if (lowest !== numberAt(search.found, node)) return;
  const component = search.stack.splice(search.stack.lastIndexOf(node));
  for (const member of component) search.open[member] = 0;
  search.components.push(component.sort((a, b) => a - b));
}

function lower(search: Search, node: number, value: number): void {
  search.lowest[node] = Math.min(numberAt(search.lowest, node), value);
}
