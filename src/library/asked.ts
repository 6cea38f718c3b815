import type { Cover } from '../model/ledger.ts';

/** One value or several. */
export type Some<Value> = Value | readonly Value[];

/** Which part of the ledger; what is left out asks for all. In the words of the command line. */
export interface Asked {
  /** A year, or a span in the words of the command line, as '2024..2026'. */
  readonly season?: Some<number | string>;
  /** `early`, `main`, or the ledger's word for it. */
  readonly crop?: Some<string>;
  /** Keys of sites. */
  readonly site?: Some<string>;
  /** Keys or names of cultivars. */
  readonly cultivar?: Some<string>;
  /** Ids of trees. */
  readonly tree?: Some<string>;
  /** Key of a column, with `:asc` or `:desc` behind it where wanted. */
  readonly sort?: string;
  /** Rows at most. */
  readonly top?: number;
  /** Of every interval, percent, from 50 to 99.9; 95 if left out. */
  readonly confidence?: number;
  /** The day that tells a season under way, YYYY-MM-DD; the day of the clock if left out. */
  readonly today?: string;
}

/** What a row is, where that can be chosen. */
export interface AskedRows extends Asked {
  readonly by?: Some<'tree' | 'cultivar' | 'site' | 'season'>;
}

export interface AskedTasted extends Asked {
  /** Ripe if left out. */
  readonly ripeness?: Some<'under' | 'ripe' | 'over'>;
  /** Whether the notes tell how it is computed, with sources. */
  readonly explain?: boolean;
}

export interface AskedPool
  extends Pick<Asked, 'season' | 'crop' | 'cultivar' | 'sort' | 'top' | 'confidence'> {
  /** Only gardens whose climate has this in it. */
  readonly climate?: string;
  /** Only what stands under these. */
  readonly cover?: Some<Cover>;
  /** Weighted parts that count; all if left out. */
  readonly parts?: Some<string>;
  readonly seed?: number;
  readonly explain?: boolean;
}

export interface AskedLineup extends Pick<Asked, 'today'> {
  /** Day of the tasting, YYYY-MM-DD; `today` if left out. */
  readonly on?: string;
  /** Samples at most; 5 if left out. */
  readonly samples?: number;
  /** Keys of those who taste; everyone in the ledger if left out. */
  readonly tasters?: Some<string>;
  /** What tells more if left out. */
  readonly crop?: string;
  /** What the sitting is to clear up; `order` if left out. */
  readonly for?: 'order' | 'verdict';
  /** Keys of cultivars to choose from, ripe or not. */
  readonly candidates?: Some<string>;
  /** Fixes codes and orders; the date if left out. */
  readonly seed?: number;
  readonly explain?: boolean;
}
