import type { SourceFile, Spot } from '../source/source-file.ts';
import type { Cultivar, Tree } from './collection.ts';
import type { IsoDate } from './dates.ts';
import type { Count, Crop, Drop, FieldEvent, Growth, Pick, Taster, Tasting } from './entries.ts';
import type { UnitSystem } from './quantity.ts';

export { CROPS, type Crop } from './entries.ts';

/** The files of a ledger that seasons lean on, in the order in which they are read. */
export const FRAME_FILES: readonly string[] = ['ledger.yaml', 'cultivars.yaml', 'trees.yaml'];

/** What is overhead, from the most to nothing. */
export const COVERS = ['indoors', 'glass', 'tunnel', 'open'] as const;
export type Cover = (typeof COVERS)[number];

/** The same as people say it. */
export const COVER_WORDS: Readonly<Record<Cover, string>> = {
  open: 'in the open',
  tunnel: 'in a tunnel',
  glass: 'under glass',
  indoors: 'indoors',
};

export interface Site {
  readonly key: string;
  readonly name: string;
  readonly cover: Cover;
}

/** Parts of the rank that are measured rather than tasted. */
export const MEASURED_PARTS = ['productivity', 'size', 'soundness', 'ripened'] as const;
export type MeasuredPart = (typeof MEASURED_PARTS)[number];

/** Points of a broken line from a measure to the scale, the measure rising; flat beyond the ends. */
export type Band = readonly (readonly [measure: number, scale: number])[];

export interface RankSettings {
  /** Weight of each part, traits as they are listed, then measured parts. Empty where the ledger says nothing. */
  readonly weights: ReadonlyMap<string, number>;
  readonly bands: ReadonlyMap<MeasuredPart, Band>;
}

export interface VerdictSettings {
  readonly minSeasons: number;
  readonly minTastings: number;
  readonly increaseAbove: number;
  readonly discardBelow: number;
}

export const DEGREE_DAY_METHODS = ['mean', 'cut', 'sine'] as const;
export type DegreeDayMethod = (typeof DEGREE_DAY_METHODS)[number];

export interface DegreeDaySettings {
  /** degC */
  readonly base: number;
  /** degC, absent where there is no upper limit */
  readonly upper: number | undefined;
  readonly method: DegreeDayMethod;
}

export interface WeatherDay {
  readonly date: IsoDate;
  /** degC */
  readonly tmin: number | undefined;
  /** degC */
  readonly tmax: number | undefined;
  /** mm */
  readonly rain: number | undefined;
}

/** The trial itself: everything that `ledger.yaml` says. */
export interface Trial {
  readonly at: Spot;
  readonly title: string;
  readonly place: {
    readonly name: string | undefined;
    readonly climate: string | undefined;
    /** Degrees north; negative in the south. */
    readonly latitude: number | undefined;
  };
  readonly fruit: string;
  readonly units: UnitSystem;
  /** The decimal sign in numbers that are typed here, and in tables for spreadsheets. */
  readonly decimal: 'point' | 'comma';
  /** Which comes first in a day typed as 12/9; undefined where nobody has said. */
  readonly dates: 'day-first' | 'month-first' | undefined;
  /** Whether fruit that needs pollination can set here. */
  readonly pollinator: 'absent' | 'present';
  /** The ledger's own words for the two crops. */
  readonly cropNames: Readonly<Record<Crop, string>>;
  readonly scale: { readonly low: number; readonly high: number };
  readonly traits: readonly string[];
  /** The words in use for what fruit tastes of, where the ledger lists them. */
  readonly words: readonly string[];
  /** By key, in the order of keys; as are sites. */
  readonly tasters: ReadonlyMap<string, Taster>;
  readonly sites: ReadonlyMap<string, Site>;
  /** First autumn frost by season. */
  readonly frost: ReadonlyMap<number, IsoDate>;
  /** Key of the check cultivar that ripening is told against. */
  readonly standard: string | undefined;
  readonly degreeDays: DegreeDaySettings;
  readonly rank: RankSettings;
  readonly verdict: VerdictSettings;
  readonly licence: string | undefined;
  /** What goes into the front matter of every post as it stands, in the order in which it was written. */
  readonly front: ReadonlyMap<string, FrontValue>;
}

export type FrontValue = string | number | boolean | readonly string[];

/** One `seasons/YYYY.yaml`: lists by date, then by what entries say (`canonical-order.ts`). */
export interface Season extends SeasonEntries {
  readonly at: Spot;
  readonly year: number;
}

/** The lists of a season file; `CATALOGUE` in src/entries has a kind for each. */
export interface SeasonEntries {
  readonly counts: readonly Count[];
  readonly picks: readonly Pick[];
  readonly drops: readonly Drop[];
  readonly tastings: readonly Tasting[];
  readonly growth: readonly Growth[];
  readonly events: readonly FieldEvent[];
}

export type SeasonSection = keyof SeasonEntries;

/** The whole ledger, typed and linked. Nothing in it may be changed. */
export interface Ledger {
  readonly trial: Trial;
  /** By key, in the order of keys. */
  readonly cultivars: ReadonlyMap<string, Cultivar>;
  /** By id, in the order of ids. */
  readonly trees: ReadonlyMap<string, Tree>;
  /** The same trees as their file lists them: the way round that a field sheet follows. */
  readonly walk: readonly Tree[];
  /** Oldest first. */
  readonly seasons: readonly Season[];
  /** By season, days in order. */
  readonly weather: ReadonlyMap<number, readonly WeatherDay[]>;
  /** Every file that was read, by its path. */
  readonly files: ReadonlyMap<string, SourceFile>;
  /** Files that could not be read whole: rules that need the whole picture keep quiet about them. */
  readonly incomplete: ReadonlySet<string>;
}
