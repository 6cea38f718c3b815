import type { JointTrial } from './joint-trial.ts';
import type { PartCells } from './part-cells.ts';

/**
 * Which effects there are, and where. A spot is one tree in one season at one site: what is seen of it has the same
 * four effects in all parts. Spots, and the effects of each level, stand item by item.
 */
export interface EffectPlaces {
  readonly items: number;
  readonly parts: number;
  readonly hasSites: boolean;
  /** Effects of each level, in the order of `LEVELS`. */
  readonly counts: readonly [item: number, season: number, site: number, tree: number];
  readonly spots: number;
  /** Of item i: from firstSpot[i] up to firstSpot[i + 1], season by season; effects of levels likewise. */
  readonly firstSpot: Int32Array;
  readonly firstSeason: Int32Array;
  readonly firstSite: Int32Array;
  readonly firstTree: Int32Array;
  readonly spotItem: Int32Array;
  readonly spotSeason: Int32Array;
  /** -1 throughout where there are no effects of sites. */
  readonly spotSite: Int32Array;
  readonly spotTree: Int32Array;
  /** By part and plate. */
  readonly plateSpot: readonly Int32Array[];
  /** Of each effect of a site: which site. */
  readonly siteOf: Int32Array;
  /** Of each effect of a season: which season. */
  readonly seasonOf: Int32Array;
}

export function effectPlaces(
  { items, sites }: JointTrial,
  cells: readonly PartCells[],
): EffectPlaces {
  const all: Spot[] = [];
  const known = new Map<string, Spot>();
  const spotsOfPlates = cells.map((part) =>
    Array.from({ length: part.plates }, (_, plate) => {
      const spot = {
        item: part.plateItem[plate] as number,
        season: part.plateSeason[plate] as number,
        tree: part.plateTree[plate] as number,
        site: part.plateSite[plate] as number,
      };
      const key = `${spot.season} ${spot.tree} ${spot.site}`;
      const before = known.get(key);
      if (before !== undefined) return before;
      known.set(key, spot);
      all.push(spot);
      return spot;
    }),
  );
  all.sort((a, b) => a.item - b.item || a.season - b.season || a.tree - b.tree || a.site - b.site);
  const placeOf = new Map(all.map((spot, at) => [spot, at]));
  const hasSites = sites > 1;
  const season = numberedByItem(items, all, ({ season }) => season);
  const site = numberedByItem(items, hasSites ? all : [], ({ site }) => site);
  const tree = numberedByItem(items, all, ({ tree }) => tree);
  return {
    items,
    parts: cells.length,
    hasSites,
    counts: [items, season.ids.length, site.ids.length, tree.ids.length],
    spots: all.length,
    firstSpot: numberedByItem(items, all, (_, at) => at).first,
    firstSeason: season.first,
    firstSite: site.first,
    firstTree: tree.first,
    spotItem: Int32Array.from(all, ({ item }) => item),
    spotSeason: season.numberOf,
    spotSite: hasSites ? site.numberOf : new Int32Array(all.length).fill(-1),
    spotTree: tree.numberOf,
    plateSpot: spotsOfPlates.map((spots) =>
      Int32Array.from(spots, (spot) => placeOf.get(spot) ?? 0),
    ),
    siteOf: Int32Array.from(site.ids),
    seasonOf: Int32Array.from(season.ids),
  };
}

interface Spot {
  readonly item: number;
  readonly season: number;
  readonly tree: number;
  readonly site: number;
}

/** Numbers what spots belong to, item by item and in order within an item. */
function numberedByItem(
  items: number,
  spots: readonly Spot[],
  idOf: (spot: Spot, at: number) => number,
) {
  const first = new Int32Array(items + 1);
  const numberOf = new Int32Array(spots.length);
  const ids: number[] = [];
  let at = 0;
  for (let item = 0; item < items; item++) {
    first[item] = ids.length;
    const from = at;
    while (at < spots.length && (spots[at] as Spot).item === item) at++;
    const own = spots.slice(from, at).map((spot, k) => idOf(spot, from + k));
    const sorted = [...new Set(own)].sort((a, b) => a - b);
    own.forEach((id, k) => {
      numberOf[from + k] = ids.length + sorted.indexOf(id);
    });
    ids.push(...sorted);
  }
  first[items] = ids.length;
  return { first, numberOf, ids };
}
