/** What a garden does that a kind simulation does not. Left out, it does not happen. */
export interface GardenKind {
  readonly name: string;
  readonly cultivars: number;
  readonly seasons: number;
  readonly tasters: number;
  readonly sites: number;
  /** Chance that a cultivar has a second tree. */
  readonly secondTree: number;
  /** How far the parts of a cultivar, of its swing in a season and of a tree go together: a correlation. */
  readonly together?: { readonly cultivar: number; readonly swing: number; readonly tree: number };
  /** Parts that go against the rest. */
  readonly against?: readonly GardenPart[];
  /** Trees planted from four years before the trial on, which bear less and taste poorer until grown. */
  readonly young?: true;
  /** Trees of a cultivar differ so many times as much as they usually do. */
  readonly unlikeTrees?: number;
  /** How much a cultivar likes one site better than another, as a share of the spread between cultivars. */
  readonly siteLiking?: number;
  /** Every cultivar stands at one site only, and the sites are far apart. */
  readonly confounded?: true;
  /** Evenings and plates that go quite wrong. */
  readonly wildEvenings?: true;
  /** Spread, in logarithms, of how widely tasters use the scale. */
  readonly widths?: number;
  /** Good and bad years in turn: the load is multiplied or divided by e to this power. */
  readonly alternation?: number;
  /** Share of plates that were not ripe and were written down as ripe. */
  readonly unripe?: number;
  /** Share of weights and counts that were written down wrong by a half or a double. */
  readonly slips?: number;
  /** So many of the tasters, the last ones, only put plates in order. */
  readonly orderers?: number;
  /** Sites by turns in the open and under glass. */
  readonly covers?: true;
  /** Nothing but luck separates the cultivars: of plates alone, or of trees and seasons too. */
  readonly equal?: 'plates' | 'trees';
}

export const GARDEN_PARTS = ['taste', 'load', 'size', 'sound'] as const;
export type GardenPart = (typeof GARDEN_PARTS)[number];

const PLAIN: GardenKind = {
  name: 'plain',
  cultivars: 15,
  seasons: 3,
  tasters: 3,
  sites: 2,
  secondTree: 0.4,
};

const half = { cultivar: 0.5, swing: 0.5, tree: 0.5 };

export const GARDEN_KINDS: readonly GardenKind[] = [
  { ...PLAIN, name: 'plain, other distributions' },
  { ...PLAIN, name: 'parts together .3', together: { cultivar: 0.3, swing: 0.3, tree: 0.3 } },
  { ...PLAIN, name: 'parts together .5', together: half },
  { ...PLAIN, name: 'size against the rest .5', together: half, against: ['size'] },
  { ...PLAIN, name: 'two parts against two .5', together: half, against: ['load', 'sound'] },
  { ...PLAIN, name: 'young trees', seasons: 4, young: true },
  { ...PLAIN, name: 'trees very unlike', unlikeTrees: 2.8 },
  { ...PLAIN, name: 'cultivar x site', siteLiking: 0.7 },
  { ...PLAIN, name: 'sites confounded', confounded: true },
  { ...PLAIN, name: 'wild evenings', wildEvenings: true },
  { ...PLAIN, name: 'widths of scale', widths: 0.5 },
  { ...PLAIN, name: 'alternate bearing', alternation: 0.9 },
  { ...PLAIN, name: 'two of four tasters only order', tasters: 4, orderers: 2 },
  {
    ...PLAIN,
    name: 'one season, 8 cultivars, one tree',
    cultivars: 8,
    seasons: 1,
    tasters: 2,
    secondTree: 0,
    sites: 1,
  },
  {
    ...PLAIN,
    name: 'all at once',
    seasons: 4,
    together: { cultivar: 0.5, swing: 0.3, tree: 0.3 },
    young: true,
    siteLiking: 0.5,
    wildEvenings: true,
    widths: 0.35,
    alternation: 0.6,
    unripe: 0.1,
    slips: 0.02,
  },
];

/** Gardens with two covers, for what is told of each. */
export const COVER_KINDS: readonly GardenKind[] = [
  { ...PLAIN, name: 'two covers', secondTree: 0.6, siteLiking: 0.4, covers: true },
  {
    ...PLAIN,
    name: 'two covers of two sites',
    sites: 4,
    secondTree: 0.6,
    siteLiking: 0.4,
    covers: true,
  },
];

/** Cultivars that are truly the same, for what `scores` says apart. */
export const EQUAL_KINDS: readonly GardenKind[] = [
  { ...PLAIN, name: 'equal, luck of plates', cultivars: 12, sites: 1, equal: 'plates' },
  {
    ...PLAIN,
    name: 'equal, luck of plates, trees and years',
    cultivars: 12,
    sites: 1,
    equal: 'trees',
  },
];
