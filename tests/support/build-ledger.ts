import type { BearingType, Cultivar, FigType, Tree } from '../../src/model/collection.ts';
import type { IsoDate } from '../../src/model/dates.ts';
import { parseIsoDate } from '../../src/model/dates.ts';
import type { Defect, EventTarget, FieldEvent, WeighedSample } from '../../src/model/entries.ts';
import type { Crop, Ledger, Season, Site, Trial } from '../../src/model/ledger.ts';
import type { Spot } from '../../src/source/source-file.ts';

/** What a test says of a ledger; everything else is taken from a plain trial. */
export interface LedgerSketch {
  readonly trial?: Partial<Omit<Trial, 'at' | 'sites' | 'frost'>>;
  /** Names by key. */
  readonly sites?: Readonly<Record<string, string>>;
  readonly frost?: Readonly<Record<number, string>>;
  readonly cultivars: Readonly<Record<string, CultivarSketch>>;
  readonly trees: Readonly<Record<string, { readonly cultivar: string; readonly site?: string }>>;
  readonly seasons: Readonly<Record<number, SeasonSketch>>;
  /** Days of all seasons. */
  readonly weather?: readonly WeatherSketch[];
}

export interface CultivarSketch {
  readonly name: string;
  readonly bears?: FigType | BearingType;
  readonly perhaps?: string;
}

interface EntrySketch {
  readonly on: string;
  readonly tree: string;
  readonly crop?: Crop;
}

export interface SeasonSketch {
  readonly counts?: readonly (EntrySketch & { fruit: number; branches?: number })[];
  readonly picks?: readonly PickSketch[];
  readonly drops?: readonly (EntrySketch & { fruit: number })[];
  readonly growth?: readonly { on: string; tree: string; girth?: number }[];
  readonly events?: readonly EventSketch[];
}

export type PickSketch = EntrySketch & {
  fruit?: number;
  weights?: readonly number[];
  weight?: number;
  sample?: WeighedSample;
} & Partial<Record<Defect, number>>;

export type EventSketch = { on: string; tree?: string; at?: string } & (
  | { kind: 'move'; site: string }
  | { kind: 'water' }
);

export interface WeatherSketch {
  readonly date: string;
  readonly tmin?: number;
  readonly tmax?: number;
  readonly rain?: number;
}

const NOWHERE: Spot = {
  file: { path: 'sketch.yaml', text: '', bom: false },
  path: [],
  part: 'value',
};

/** A ledger as reading would give it, from a sketch. */
export function buildLedger(sketch: LedgerSketch): Ledger {
  const cultivars = new Map(
    Object.entries(sketch.cultivars).map(([key, one]) => [key, toCultivar(key, one)]),
  );
  const trees = new Map(
    Object.entries(sketch.trees).map(([id, one]) => [
      id,
      toTree(id, found(cultivars, one.cultivar), one.site ?? 'yard'),
    ]),
  );
  const seasons = Object.entries(sketch.seasons).map(([year, one]) =>
    toSeason(Number(year), one, trees),
  );
  return {
    trial: toTrial(sketch),
    cultivars,
    trees,
    walk: [...trees.values()],
    seasons,
    weather: toWeather(sketch.weather ?? []),
    files: new Map(),
    incomplete: new Set(),
  };
}

/** A ledger of one cultivar: two trees under glass, G1 and G2, and one in the yard, Y1. */
export function threeTrees(
  seasons: LedgerSketch['seasons'],
  rest: Partial<LedgerSketch> = {},
): Ledger {
  return buildLedger({
    cultivars: { amber: { name: 'Amber Lantern' } },
    trees: {
      G1: { cultivar: 'amber', site: 'glass' },
      G2: { cultivar: 'amber', site: 'glass' },
      Y1: { cultivar: 'amber', site: 'yard' },
    },
    seasons,
    ...rest,
  });
}

function found<T>(all: ReadonlyMap<string, T>, key: string): T {
  const one = all.get(key);
  if (one === undefined) throw new Error(`the sketch has no ${key}`);
  return one;
}

export function day(text: string): IsoDate {
  const date = parseIsoDate(text);
  if (date === undefined) throw new Error(`${text} is no date`);
  return date;
}

function toTrial({
  trial,
  sites = { yard: 'south wall', glass: 'glasshouse' },
  frost = {},
}: LedgerSketch): Trial {
  return {
    at: NOWHERE,
    title: 'Tidewrack Lane fig trial',
    place: { name: 'Tidewrack Lane', climate: undefined, latitude: 52.1 },
    fruit: 'fig',
    dates: undefined,
    words: [],
    units: 'metric',
    decimal: 'point',
    pollinator: 'absent',
    cropNames: { early: 'breba', main: 'main' },
    scale: { low: 1, high: 10 },
    traits: ['sweetness', 'flavour'],
    tasters: new Map(),
    standard: undefined,
    degreeDays: { base: 10, upper: undefined, method: 'mean' },
    rank: { weights: new Map(), bands: new Map() },
    verdict: { minSeasons: 3, minTastings: 4, increaseAbove: 7.5, discardBelow: 5 },
    licence: undefined,
    front: new Map(),
    ...trial,
    sites: new Map(
      Object.entries(sites).map(([key, name]): [string, Site] => [
        key,
        { key, name, cover: key === 'glass' ? 'glass' : 'open' },
      ]),
    ),
    frost: new Map(Object.entries(frost).map(([year, date]) => [Number(year), day(date)])),
  };
}

function toCultivar(key: string, { name, bears = 'common', perhaps }: CultivarSketch): Cultivar {
  return {
    at: NOWHERE,
    key,
    name,
    bears,
    also: [],
    perhaps: perhaps === undefined ? undefined : { sameAs: perhaps, why: undefined },
    protected: undefined,
    note: undefined,
  };
}

function toTree(id: string, cultivar: Cultivar, site: string): Tree {
  return {
    at: NOWHERE,
    id,
    cultivar,
    receivedAs: undefined,
    from: undefined,
    received: undefined,
    planted: undefined,
    site,
    container: undefined,
    rootstock: undefined,
    removed: undefined,
    note: undefined,
  };
}

function toSeason(year: number, sketch: SeasonSketch, trees: ReadonlyMap<string, Tree>): Season {
  const entry = ({ on }: { readonly on: string }) => ({
    at: NOWHERE,
    season: year,
    on: day(on),
    note: undefined,
    photo: undefined,
  });
  const ofCrop = (one: EntrySketch) => ({
    ...entry(one),
    tree: found(trees, one.tree),
    crop: one.crop ?? 'main',
  });
  return {
    at: NOWHERE,
    year,
    counts: (sketch.counts ?? []).map((one) => ({
      ...ofCrop(one),
      fruit: one.fruit,
      branches: one.branches,
    })),
    picks: (sketch.picks ?? []).map(
      ({ split = 0, bird = 0, insect = 0, animal = 0, mould = 0, unripe = 0, ...one }) => ({
        ...ofCrop(one),
        fruit: one.fruit ?? one.weights?.length ?? 0,
        weights: one.weights ?? [],
        weight: one.weight,
        sample: one.sample,
        defects: { split, bird, insect, animal, mould, unripe },
      }),
    ),
    drops: (sketch.drops ?? []).map((one) => ({ ...ofCrop(one), fruit: one.fruit })),
    tastings: [],
    growth: (sketch.growth ?? []).map((one) => ({
      ...entry(one),
      tree: found(trees, one.tree),
      girth: one.girth,
      height: undefined,
    })),
    events: (sketch.events ?? []).map((one): FieldEvent => {
      const target = targetOf(one, trees);
      return one.kind === 'move'
        ? { ...entry(one), target, kind: 'move', site: one.site }
        : { ...entry(one), target, kind: 'water', product: undefined };
    }),
  };
}

function targetOf({ tree, at }: EventSketch, trees: ReadonlyMap<string, Tree>): EventTarget {
  if (tree !== undefined) return { kind: 'tree', tree: found(trees, tree) };
  return at === undefined ? { kind: 'trial', said: true } : { kind: 'site', site: at };
}

function toWeather(days: readonly WeatherSketch[]): Ledger['weather'] {
  const weather = new Map<
    number,
    {
      date: IsoDate;
      tmin: number | undefined;
      tmax: number | undefined;
      rain: number | undefined;
    }[]
  >();
  for (const { date, tmin, tmax, rain } of days) {
    const year = Number(date.slice(0, 4));
    weather.set(year, [...(weather.get(year) ?? []), { date: day(date), tmin, tmax, rain }]);
  }
  return weather;
}
