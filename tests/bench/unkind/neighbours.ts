import type { Ledger } from '../../../src/model/ledger.ts';
import { ledgerFrom } from '../../support/ledger-from.ts';
import { type Chance, chance } from './chance.ts';
import { type Garden, garden, type Lean, leaning, scaled, upTo } from './garden.ts';
import type { GardenKind } from './garden-kinds.ts';
import { cultivarKey, gardenFiles, writeSeason } from './garden-records.ts';
import { trueIndex } from './garden-truth.ts';

/** Gardens that grow some of the same cultivars, each in its own way. */
export interface NeighbourKind {
  readonly name: string;
  readonly gardens: number;
  /** How many cultivars there are to choose from. */
  readonly choice: number;
  /** What a garden does to one cultivar and not to others, as a share of the spread between cultivars. */
  readonly liking: number;
  /** Spread, in logarithms, of how widely the hands of a garden use the scale. */
  readonly widths: number;
  /** How much of a cultivar's swing in a year all gardens share, a correlation. */
  readonly sharedYears?: number;
  /** Fewest and most cultivars of a garden. */
  readonly sizes: readonly [number, number];
  /** Seasons of every garden; from one to four, each its own, if left out. */
  readonly seasons?: number;
}

/** A garden among neighbours: its ledger, and which of all cultivars its own are. */
export interface Neighbour {
  readonly garden: Garden;
  readonly ledger: Ledger;
  readonly own: readonly number[];
}

export interface TrueNeighbours {
  /** Index of each cultivar in the middle of gardens like these, at the levels of these; NaN where none grows it. */
  readonly middle: readonly number[];
  /** The same in each of some new gardens, apart from what shifts all cultivars alike. */
  readonly elsewhere: readonly (readonly number[])[];
  /** In the first garden. */
  readonly home: readonly number[];
}

/** Likings and draws for the middle: so many that what they leave open of the truth is small beside any interval. */
const MIDDLE_DRAWS = 960;
const NEW_GARDENS = 12;
const NEW_DRAWS = 240;
const HOME_DRAWS = 800;

export function neighbours(
  kind: NeighbourKind,
  seed: number,
): { readonly found: readonly Neighbour[]; readonly truth: () => TrueNeighbours } {
  const luck = chance(seed + 0.25 * 2 ** 31);
  const plain = gardenKind(kind, luck, 2);
  const all = upTo(kind.choice).map(() => ({
    lean: leaning(luck, 'leaning', plain, 0.2),
    traits: { flavour: 0.45 * luck.shape('even'), sweetness: 0.45 * luck.shape('even') },
    years: upTo(4).map(() => scaled(0.5, leaning(luck, 'peaked', plain, 0))),
  }));
  // Some are in nearly every garden, some in hardly any.
  const loved = all.map(() => 0.1 + luck.uniform() ** 2);
  const found = upTo(kind.gardens).map((at): Neighbour => {
    const [least, most] = kind.sizes;
    const count = least + luck.below(most - least + 1);
    const own = loved
      .map((much, cultivar) => ({ cultivar, late: -Math.log(luck.uniform()) / much }))
      .toSorted((a, b) => a.late - b.late)
      .slice(0, count)
      .map(({ cultivar }) => cultivar);
    return grown(kind, all, own, luck, 1000 * seed + at);
  });
  return { found, truth: () => truthOf(kind, all, found, luck) };
}

type Cultivars = readonly {
  readonly lean: Lean;
  readonly traits: Garden['cultivars'][0]['traits'];
  readonly years: readonly Lean[];
}[];

function grown(
  kind: NeighbourKind,
  all: Cultivars,
  own: readonly number[],
  luck: Chance,
  seed: number,
): Neighbour {
  const bare = garden(gardenKind(kind, luck, own.length), seed);
  const shift = scaled(0.5, leaning(luck, 'even', bare.kind, 0));
  const width = Math.exp(kind.widths * luck.shape('even'));
  const shared = kind.sharedYears ?? 0;
  const made: Garden = {
    ...bare,
    levels: {
      taste: bare.levels.taste + shift.taste,
      load: bare.levels.load + 0.5 * shift.load,
      size: bare.levels.size + 0.3 * shift.size,
      sound: bare.levels.sound + 0.5 * shift.sound,
    },
    hands: bare.hands.map((hand) => ({ ...hand, width: hand.width * width })),
    cultivars: bare.cultivars.map((cultivar, place) => {
      const { lean, traits, years } = all[own[place] as number] as Cultivars[0];
      return {
        ...cultivar,
        lean: plus(lean, scaled(kind.liking, leaning(luck, 'even', bare.kind, 0.2))),
        traits,
        swings: cultivar.swings.map((swing, year) =>
          plus(
            scaled(Math.sqrt(1 - shared), swing),
            scaled(Math.sqrt(shared), years[year] as Lean),
          ),
        ),
      };
    }),
  };
  const seasons = upTo(bare.kind.seasons).map((season) => writeSeason(made, season, luck));
  const files = gardenFiles(made, seasons, { increase_above: 7, discard_below: 5 });
  const named = Object.fromEntries(
    own.map((one, place) => [cultivarKey(place), { name: `Made Up ${one}`, bears: 'main' }]),
  );
  return {
    garden: made,
    own,
    ledger: ledgerFrom({ ...files, 'cultivars.yaml': JSON.stringify(named) }),
  };
}

function gardenKind({ name, seasons }: NeighbourKind, luck: Chance, cultivars: number): GardenKind {
  return {
    name,
    cultivars,
    seasons: seasons ?? 1 + luck.below(4),
    tasters: 2 + luck.below(3),
    sites: 1 + luck.below(2),
    secondTree: luck.uniform() * 0.6,
    together: { cultivar: 0.2, swing: 0.2, tree: 0.2 },
    siteLiking: 0.3,
  };
}

const NONE: Lean = { taste: 0, load: 0, size: 0, sound: 0 };

function truthOf(
  kind: NeighbourKind,
  all: Cultivars,
  found: readonly Neighbour[],
  luck: Chance,
): TrueNeighbours {
  const grows = new Set(found.flatMap(({ own }) => own));
  const [home] = found;
  const { kind: plain } = (home as Neighbour).garden;
  const newGarden = () => likingOf(kind, plain, luck, 1 + luck.below(2));
  // At the levels and by the hands of all gardens alike, whatever the cultivar is to each of them taken away. Many
  // likings are shared out among the gardens, so that none counts twice; a single one meets all.
  const over = (cultivar: Cultivars[0], beside: readonly Lean[], draws: number) => {
    const each = Math.ceil(draws / found.length);
    return mean(
      found.map(({ garden: made }, at) => {
        const own = beside.filter((_, one) => one % found.length === at % beside.length);
        return trueIndex(withOne(made, cultivar), luck, 0, own, each);
      }),
    );
  };
  // Each with its mirror image, so that they have no mean of their own.
  const middleOf = (cultivar: Cultivars[0]) => {
    const half = upTo(MIDDLE_DRAWS / 2).map(newGarden);
    return over(cultivar, [...half, ...half.map((liking) => scaled(-1, liking))], MIDDLE_DRAWS);
  };
  return {
    middle: all.map((one, at) => (grows.has(at) ? middleOf(one) : Number.NaN)),
    elsewhere: all.map((one, at) =>
      grows.has(at) ? upTo(NEW_GARDENS).map(() => over(one, [newGarden()], NEW_DRAWS)) : [],
    ),
    home: all.map((_, at) => {
      const place = home?.own.indexOf(at) ?? -1;
      return home === undefined || place < 0
        ? Number.NaN
        : trueIndex(home.garden, luck, place, [NONE], HOME_DRAWS);
    }),
  };
}

/** What a garden does to one cultivar and not to others, the mean over its sites, each of which has a liking of its own. */
function likingOf(kind: NeighbourKind, plain: GardenKind, luck: Chance, sites: number): Lean {
  const own = scaled(kind.liking, leaning(luck, 'even', plain, 0.2));
  return upTo(sites)
    .map(() => scaled((plain.siteLiking ?? 0) / sites, leaning(luck, 'even', plain, 0)))
    .reduce(plus, own);
}

function withOne(made: Garden, { lean, traits }: Cultivars[0]): Garden {
  const [first] = made.cultivars;
  if (first === undefined) throw new RangeError('a garden without cultivars');
  return { ...made, cultivars: [{ ...first, lean, traits, liking: made.sites.map(() => NONE) }] };
}

function plus(a: Lean, b: Lean): Lean {
  return {
    taste: a.taste + b.taste,
    load: a.load + b.load,
    size: a.size + b.size,
    sound: a.sound + b.sound,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
