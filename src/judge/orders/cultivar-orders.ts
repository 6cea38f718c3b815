import type { Sample } from '../../model/entries.ts';

/** An order of cultivars, best first, and what it counts. */
export interface CultivarOrder {
  /** Keys of cultivars; those in the same list are tied. */
  readonly ranks: readonly (readonly string[])[];
  /** 1 for a whole order. */
  readonly weight: number;
}

/** Past so many ways of choosing one plate a cultivar, only the best plate of each counts. */
const MOST_WAYS = 1000;

/**
 * An order of plates as orders of cultivars. Where a cultivar has several plates in it, each of
 * them stands for it in turn, every way counting alike and all ways together as one order: counting
 * only the best plate would favour a cultivar for being served often. Empty where the plates are
 * all of one cultivar.
 */
export function cultivarOrders(ranks: readonly (readonly Sample[])[]): readonly CultivarOrder[] {
  const places = new Map<string, number[]>();
  for (const [place, rank] of ranks.entries()) {
    for (const { tree } of rank) {
      const own = places.get(tree.cultivar.key) ?? [];
      own.push(place);
      places.set(tree.cultivar.key, own);
    }
  }
  if (places.size < 2) return [];
  const ways = [...places.values()].reduce((all, own) => all * own.length, 1);
  const options = [...places].map(([key, own]) => ({
    key,
    places: ways > MOST_WAYS ? own.slice(0, 1) : own,
  }));
  const chosen = options.reduce<(readonly Standing[])[]>(
    (before, { key, places }) =>
      before.flatMap((way) => places.map((place) => [...way, { key, place }])),
    [[]],
  );
  return chosen.map((way) => ({ ranks: inOrder(way), weight: 1 / chosen.length }));
}

interface Standing {
  readonly key: string;
  readonly place: number;
}

function inOrder(way: readonly Standing[]): string[][] {
  const places = [...new Set(way.map(({ place }) => place))].sort((a, b) => a - b);
  return places.map((place) => way.filter((one) => one.place === place).map(({ key }) => key));
}
