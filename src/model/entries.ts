import type { Spot } from '../source/source-file.ts';
import type { Container, Tree } from './collection.ts';
import type { IsoDate } from './dates.ts';

/** The two crops of a year: early (for figs the breba, on last year's wood) and main. */
export type Crop = 'early' | 'main';
export const CROPS: readonly Crop[] = ['early', 'main'];

/** What every entry of a season file carries. */
interface Entry {
  readonly at: Spot;
  readonly season: number;
  readonly on: IsoDate;
  readonly note: string | undefined;
  /** Path of a picture inside the ledger. */
  readonly photo: string | undefined;
}

interface CropEntry extends Entry {
  readonly tree: Tree;
  readonly crop: Crop;
}

/** What hangs on a tree on a day, before anything is picked that day. */
export interface Count extends CropEntry {
  readonly fruit: number;
  readonly branches: number | undefined;
}

/** Defects in the order in which a spoiled fruit is put under the first that fits. */
export const DEFECTS = ['split', 'bird', 'insect', 'animal', 'mould', 'unripe'] as const;
export type Defect = (typeof DEFECTS)[number];

/** How many fruit have each defect as their worst. */
export type Defects = Readonly<Record<Defect, number>>;

export const NO_DEFECTS: Defects = Object.freeze({
  split: 0,
  bird: 0,
  insect: 0,
  animal: 0,
  mould: 0,
  unripe: 0,
});

/** How the fruit that were weighed singly were chosen from a pick. */
export const WEIGHED_SAMPLES = ['all', 'random', 'best'] as const;
export type WeighedSample = (typeof WEIGHED_SAMPLES)[number];

export interface Pick extends CropEntry {
  /** Fruit picked; the number of single weights where the file gives no number of its own. */
  readonly fruit: number;
  /** Weights of single fruit, g. */
  readonly weights: readonly number[];
  /** Weight of all fruit of the pick together, g. */
  readonly weight: number | undefined;
  readonly sample: WeighedSample | undefined;
  readonly defects: Defects;
}

/** Fruit lost before picking. */
export interface Drop extends CropEntry {
  readonly fruit: number;
}

export const RIPENESS = ['under', 'ripe', 'over'] as const;
export type Ripeness = (typeof RIPENESS)[number];

export interface Sample {
  readonly at: Spot;
  /** How score sheets call it: the blind label, or else the tree's id. */
  readonly label: string;
  readonly tree: Tree;
  readonly crop: Crop;
  readonly ripeness: Ripeness | undefined;
  /** Soluble solids, degrees Brix. */
  readonly brix: number | undefined;
  /** Width of the eye (ostiole), mm. */
  readonly eye: number | undefined;
  readonly note: string | undefined;
  readonly photo: string | undefined;
}

export interface Taster {
  readonly key: string;
  readonly name: string;
}

/** One taster's score of one sample for one trait. */
export interface Score {
  /** All scores that this taster gave this sample. */
  readonly at: Spot;
  readonly taster: Taster;
  readonly sample: Sample;
  readonly trait: string;
  readonly value: number;
}

/** What one taster says one sample tastes of. */
export interface TasteWords {
  /** The list of words. */
  readonly at: Spot;
  readonly taster: Taster;
  readonly sample: Sample;
  /** As written, one or more. */
  readonly words: readonly string[];
}

/** One taster's best-first order; samples in the same inner list are tied. */
export interface Order {
  readonly at: Spot;
  readonly taster: Taster;
  readonly ranks: readonly (readonly Sample[])[];
}

/** One sitting: samples before some tasters. */
export interface Tasting extends Entry {
  readonly samples: readonly Sample[];
  readonly scores: readonly Score[];
  readonly words: readonly TasteWords[];
  readonly orders: readonly Order[];
}

export interface Growth extends Entry {
  readonly tree: Tree;
  /** Girth of the trunk, cm. */
  readonly girth: number | undefined;
  /** cm */
  readonly height: number | undefined;
}

/** What an event was done to: one tree, all trees at a site, or the whole trial. */
export type EventTarget =
  | { readonly kind: 'tree'; readonly tree: Tree }
  | { readonly kind: 'site'; readonly site: string }
  /** `said` where the entry says so itself, by `site: all`, and does not merely name nothing. */
  | { readonly kind: 'trial'; readonly said: boolean };

export type FieldEvent = Entry & { readonly target: EventTarget } & (
    | { readonly kind: 'move'; readonly site: string }
    | { readonly kind: 'water' | 'prune'; readonly product: string | undefined }
    | { readonly kind: 'repot'; readonly container: Container | undefined }
    | {
        readonly kind: 'spray';
        readonly product: string;
        readonly waitDays: number;
        /** `picks` where what was picked and tasted that day was picked before. */
        readonly after: 'picks' | undefined;
      }
    /** Lowest temperature, degC. */
    | { readonly kind: 'frost'; readonly low: number | undefined }
    /** Length of wood that died back, cm. */
    | { readonly kind: 'winter-damage'; readonly dieback: number | undefined }
    /** Nothing is worked out from it: what it says is kept and told, by the keys of the file, amounts in pomary's units. */
    | { readonly kind: 'told'; readonly word: string; readonly says: EventSays }
  );

export type EventSays = Readonly<Record<string, string | number | undefined>>;
