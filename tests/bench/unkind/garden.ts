import { type Chance, chance, type Shape } from './chance.ts';
import { GARDEN_PARTS, type GardenKind, type GardenPart } from './garden-kinds.ts';

export const GARDEN_TRAITS = ['flavour', 'sweetness'] as const;
export type GardenTrait = (typeof GARDEN_TRAITS)[number];

/** One number for each part, in units of its spread between cultivars. */
export type Lean = Readonly<Record<GardenPart, number>>;

export interface GardenTree {
  readonly id: string;
  readonly cultivar: number;
  readonly site: number;
  /** Counted like seasons, so below 0 if it stood before the trial began; undefined if old and not noted. */
  readonly planted: number | undefined;
  readonly lean: Lean;
}

export interface Evening {
  readonly season: number;
  readonly mood: number;
}

export interface Hand {
  readonly harsh: number;
  readonly width: number;
  readonly noise: number;
}

/** All that is true of a made-up garden, known to nobody in it. */
export interface Garden {
  readonly kind: GardenKind;
  readonly levels: Readonly<Record<GardenPart, number>>;
  readonly cultivars: readonly {
    readonly lean: Lean;
    readonly traits: Readonly<Record<GardenTrait, number>>;
    /** By site. */
    readonly liking: readonly Lean[];
    /** By season. */
    readonly swings: readonly Lean[];
    /** Whether its heavy years are the even ones. */
    readonly turn: 1 | -1;
  }[];
  readonly sites: readonly Lean[];
  readonly years: readonly Lean[];
  readonly trees: readonly GardenTree[];
  readonly evenings: readonly Evening[];
  readonly hands: readonly Hand[];
}

/** Spread between cultivars: points; logarithms of fruit per branch and of grams; log odds of a sound fruit. */
export const UNITS: Lean = { taste: 1.05, load: 0.42, size: 0.26, sound: 0.55 };

/** Spreads of the rest against that between cultivars. */
export const SHARES = {
  swing: 0.5,
  tree: 0.35,
  plate: 0.55,
  treeSeason: 0.3,
  trait: 0.45,
} as const;

/** Years until a tree bears, and tastes, as a grown one: load 1 - exp(-age / bears), taste down by tasted * exp(-age / 2). */
export const YOUTH = { bears: 2.2, tasted: 0.8, ripens: 2 } as const;

const LEVELS: Lean = { taste: 6.1, load: Math.log(1.9), size: Math.log(46), sound: 1.4 };
const EVENINGS_A_SEASON = 4;

export function garden(kind: GardenKind, seed: number): Garden {
  const luck = chance(seed);
  const none: Lean = { taste: 0, load: 0, size: 0, sound: 0 };
  const apart = kind.equal === undefined;
  const moving = kind.equal !== 'plates';
  const seasons = upTo(kind.seasons);
  const sites = upTo(kind.sites);
  const farApart = kind.confounded === true ? 1 : 0.5;
  const cultivars = upTo(kind.cultivars).map(() => ({
    lean: apart ? leaning(luck, 'leaning', kind, kind.together?.cultivar ?? 0) : none,
    traits: {
      flavour: apart ? SHARES.trait * luck.shape('even') : 0,
      sweetness: apart ? SHARES.trait * luck.shape('even') : 0,
    },
    liking: sites.map(() =>
      kind.siteLiking === undefined
        ? none
        : scaled(kind.siteLiking, leaning(luck, 'even', kind, 0)),
    ),
    swings: seasons.map(() => (moving ? swing(kind, luck) : none)),
    turn: luck.uniform() < 0.5 ? (1 as const) : (-1 as const),
  }));
  return {
    kind,
    levels: LEVELS,
    cultivars,
    sites: sites.map(() =>
      kind.sites === 1 ? none : scaled(farApart, leaning(luck, 'even', kind, 0)),
    ),
    years: seasons.map(() => scaled(0.4, leaning(luck, 'bell', kind, 0))),
    trees: plant(kind, luck, moving),
    evenings: seasons.flatMap((season) =>
      upTo(EVENINGS_A_SEASON).map(() => evening(kind, luck, season)),
    ),
    hands: upTo(kind.tasters).map(() => ({
      harsh: 0.8 * luck.shape('even'),
      width: Math.exp((kind.widths ?? 0) * luck.shape('even')),
      noise: 0.7 + 0.5 * luck.uniform(),
    })),
  };
}

/** How a cultivar does in a season, apart from what the season does to all. */
export function swing(kind: GardenKind, luck: Chance): Lean {
  return scaled(SHARES.swing, leaning(luck, 'peaked', kind, kind.together?.swing ?? 0));
}

/** How a tree differs from others of its cultivar. */
export function treeLean(kind: GardenKind, luck: Chance): Lean {
  const spread = SHARES.tree * (kind.unlikeTrees ?? 1);
  return scaled(spread, leaning(luck, 'even', kind, kind.together?.tree ?? 0));
}

export function upTo(count: number): number[] {
  return Array.from({ length: count }, (_, at) => at);
}

function plant(kind: GardenKind, luck: Chance, moving: boolean): GardenTree[] {
  const trees: GardenTree[] = [];
  for (let cultivar = 0; cultivar < kind.cultivars; cultivar++) {
    const home = luck.below(kind.sites);
    const count = luck.uniform() < kind.secondTree ? 2 : 1;
    for (let k = 0; k < count; k++) {
      const lean = moving ? treeLean(kind, luck) : scaled(0, treeLean(kind, luck));
      const site = kind.confounded === true ? home : luck.below(kind.sites);
      // From four years before the first season to one before the last, so that some are never seen grown.
      const planted = kind.young === true ? luck.below(kind.seasons + 3) - 4 : undefined;
      trees.push({ id: `T${trees.length + 1}`, cultivar, site, planted, lean });
    }
  }
  return trees;
}

function evening(kind: GardenKind, luck: Chance, season: number): Evening {
  const mood = kind.wildEvenings === true ? 0.6 * luck.shape('wild') : 0.4 * luck.shape('bell');
  return { season, mood };
}

/** Deviations of the parts that go together by one common cause, in units of the spread between cultivars. */
export function leaning(luck: Chance, shape: Shape, kind: GardenKind, together: number): Lean {
  const common = luck.shape(shape);
  const lean = { taste: 0, load: 0, size: 0, sound: 0 };
  for (const part of GARDEN_PARTS) {
    const sign = kind.against?.includes(part) === true ? -1 : 1;
    lean[part] = Math.sqrt(together) * sign * common + Math.sqrt(1 - together) * luck.shape(shape);
  }
  return lean;
}

export function scaled(by: number, lean: Lean): Lean {
  return {
    taste: by * lean.taste,
    load: by * lean.load,
    size: by * lean.size,
    sound: by * lean.sound,
  };
}
