import type { Prose } from '../prose.ts';

/** What every figure says in words. */
interface FigureWords {
  /** Tells it from the other figures of a post; fit for a file name. */
  readonly key: string;
  readonly title: string;
  /** What its marks mean. */
  readonly reading: string;
  /** What it shows, in a sentence: stands in for the picture. */
  readonly alt: Prose;
  /** All that is drawn, in words, for those who do not see it. */
  readonly description: Prose;
}

/** A dot with the interval around it. */
export interface Spotted {
  readonly name: string;
  readonly value: number;
  readonly low: number | undefined;
  readonly high: number | undefined;
}

export interface RankedSpot extends Spotted {
  readonly rank: number;
  /** Rows that share a letter cannot be told apart; empty where there are none. */
  readonly letters: string;
}

/** Rows one below the other, best first, a panel a crop. */
export interface RanksFigure extends FigureWords {
  readonly kind: 'ranks';
  readonly scale: { readonly low: number; readonly high: number };
  readonly panels: readonly { readonly heading: string; readonly rows: readonly RankedSpot[] }[];
}

/** Days as YYYY-MM-DD. */
export interface RipeningSpan {
  readonly name: string;
  readonly first: string;
  readonly p10: string;
  readonly p50: string;
  readonly p90: string;
  readonly last: string;
}

export interface RipeningPanel {
  readonly heading: string;
  /** Ends of the axis; as many days in every panel of a figure. */
  readonly from: string;
  readonly to: string;
  readonly frost: string | undefined;
  readonly rows: readonly RipeningSpan[];
}

/** Calendar bars, a panel a season and crop. */
export interface RipeningFigure extends FigureWords {
  readonly kind: 'ripening';
  readonly panels: readonly RipeningPanel[];
}

/** Weights in g. Too few fruit for quartiles are drawn one by one. */
export type WeightSpread =
  | { readonly name: string; readonly kind: 'fruit'; readonly weights: readonly number[] }
  | {
      readonly name: string;
      readonly kind: 'box';
      readonly min: number;
      readonly q1: number;
      readonly median: number;
      readonly q3: number;
      readonly max: number;
    };

/** Boxes of single fruit, heaviest first, a panel a crop. */
export interface WeightsFigure extends FigureWords {
  readonly kind: 'weights';
  readonly panels: readonly { readonly heading: string; readonly rows: readonly WeightSpread[] }[];
}

/** One crop of a cultivar over the seasons. */
export interface SeasonLine {
  readonly crop: 'early' | 'main';
  readonly points: readonly (Omit<Spotted, 'name'> & { readonly season: number })[];
}

/** One measure; `day` values are days since 1970-01-01 moved into one year. */
export interface CultivarPanel {
  readonly heading: string;
  readonly values: 'number' | 'day';
  /** Ends of the axis, where they are fixed; numbers begin at 0 otherwise. */
  readonly domain?: readonly [low: number, high: number];
  readonly seasons: readonly number[];
  readonly lines: readonly SeasonLine[];
}

/** One cultivar over the years, a panel a measure. */
export interface CultivarFigure extends FigureWords {
  readonly kind: 'cultivar';
  readonly panels: readonly CultivarPanel[];
}

/** A plate or a pick of a day. */
export interface DayRow {
  readonly name: string;
  /** From 1; undefined where it was not put in order. */
  readonly place: number | undefined;
  /** Said behind the name, such as `overripe`; may be empty. */
  readonly remark: string;
  /** Whether it counts. */
  readonly counts: boolean;
  readonly value: number;
  /** What stands beside it, on the same axis. */
  readonly others: readonly number[];
}

export interface DayPanel {
  readonly heading: string;
  /** `marks`: the mean, beside that of each taster; `weight`: of a fruit in g, beside other years. */
  readonly measure: 'marks' | 'weight';
  readonly rows: readonly DayRow[];
}

/** What was picked and tasted on a day, best first, a panel for each crop and measure. */
export interface DayFigure extends FigureWords {
  readonly kind: 'day';
  readonly scale: { readonly low: number; readonly high: number };
  readonly panels: readonly DayPanel[];
}

/** A cultivar over several gardens. */
export interface PooledSpot extends Spotted {
  readonly rank: number;
  /** Where it lies in a garden that is not among them. */
  readonly newLow: number;
  readonly newHigh: number;
  /** What it is worth in each garden that judged it, at the mean level of all. */
  readonly gardens: readonly {
    readonly name: string;
    readonly value: number;
    readonly isHome: boolean;
  }[];
}

/** Gardens and their middle, a row a cultivar, best first, a panel a crop. */
export interface PoolFigure extends FigureWords {
  readonly kind: 'pool';
  readonly scale: { readonly low: number; readonly high: number };
  readonly panels: readonly { readonly heading: string; readonly rows: readonly PooledSpot[] }[];
}

export type Figure =
  | RanksFigure
  | RipeningFigure
  | WeightsFigure
  | CultivarFigure
  | DayFigure
  | PoolFigure;
