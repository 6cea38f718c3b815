import type { Cover, Ledger } from '../model/ledger.ts';
import type { Ground } from '../render/figure-style.ts';
import type { FigureKind } from '../report/figures/build-figure.ts';

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

export interface Explained {
  /** Whether the notes tell how it is computed, with sources. */
  readonly explain?: boolean;
}

/** What a row is, where that can be chosen. */
export interface AskedRows extends Asked, Explained {
  readonly by?: Some<'tree' | 'cultivar' | 'site' | 'season'>;
}

export interface AskedTasted extends Asked, Explained {
  /** Ripe if left out. */
  readonly ripeness?: Some<'under' | 'ripe' | 'over'>;
}

export interface AskedSpread extends AskedRows {
  /** Whose trees tell how far trees of a cultivar differ; `shared` if left out. */
  readonly spread?: 'shared' | 'own';
}

export interface AskedSoundness extends AskedRows {
  /** Splits of fruit picked soon after it, against the rest. */
  readonly after?: 'rain' | 'water';
  /** Days; 3 if left out. */
  readonly within?: number;
  /** Rain of a day that counts, mm; 2 if left out. */
  readonly rainFrom?: number;
}

export interface AskedScores extends AskedTasted {
  readonly trait?: Some<string>;
  readonly by?: 'cultivar' | 'tree';
  /** What errors and letters rest on; `plate` if left out. */
  readonly unit?: 'plate' | 'score';
}

export interface AskedPreference extends AskedTasted {
  /** Orders as they were given, read off scores, or both; `orders` if left out. */
  readonly from?: 'orders' | 'scores' | 'both';
  /** Wins and losses given to each beforehand; 0.5 if left out, 0 for none. */
  readonly prior?: number;
}

export interface AskedCompare extends Omit<AskedTasted, 'cultivar' | 'sort' | 'top'> {}

export interface AskedRank extends Asked, Explained {
  /** Whether what stands under glass and in the open is judged apart; `cultivar` if left out. */
  readonly by?: 'cultivar' | 'cover';
  /** Of the simulation; the same seed gives the same figures. */
  readonly seed?: number;
}

export interface AskedStability extends Asked, Explained {
  /** `productivity`, `size`, `soundness` or a trait; `productivity` if left out. */
  readonly of?: string;
}

export interface AskedCard extends Pick<Asked, 'season' | 'crop' | 'confidence' | 'today'> {
  /** Notes of the seasons at most; 6 if left out. */
  readonly notes?: number;
  /** Whether its rank in each season alone is told as well, as the command's JSON does; true if left out. */
  readonly full?: boolean;
}

export interface AskedDay extends Pick<Asked, 'confidence'>, Explained {
  /** Whether tasters are told by name, not only by their number; true if left out. */
  readonly names?: boolean;
}

export interface AskedChanges
  extends Pick<Asked, 'crop' | 'site' | 'top' | 'confidence' | 'today'> {
  /** The last season if left out. */
  readonly season?: number;
  /** The season before it if left out. */
  readonly against?: number;
}

export interface AskedSheet extends Pick<Asked, 'site' | 'today'> {
  /** Day of the round, YYYY-MM-DD; `today` if left out. */
  readonly on?: string;
}

export interface AskedPool
  extends Pick<Asked, 'season' | 'crop' | 'cultivar' | 'sort' | 'top' | 'confidence' | 'today'>,
    Explained {
  /** Only gardens whose climate has this in it. */
  readonly climate?: string;
  /** Only what stands under these. */
  readonly cover?: Some<Cover>;
  /** Weighted parts that count; all if left out. */
  readonly parts?: Some<string>;
  /** Whether it lists what was taken for the same cultivar instead, and why. */
  readonly names?: boolean;
  readonly seed?: number;
}

export interface AskedLineup extends Pick<Asked, 'today'>, Explained {
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
}

export type DrawnKind = FigureKind | 'pool';

export interface AskedFigure extends Omit<Asked, 'sort'> {
  /** What it stands on; `auto`, by the reader's screen, if left out. */
  readonly ground?: Ground;
  /** To fill a screen, in pixels. */
  readonly size?: `${number}x${number}`;
  /** Of `pool`: ledgers of other gardens, opened as home was. */
  readonly pool?: readonly Ledger[];
}
