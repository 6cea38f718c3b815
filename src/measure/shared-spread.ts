import { CROPS, type Crop } from '../model/ledger.ts';
import { mean } from '../stats/describe/mean.ts';
import { additiveModel } from '../stats/linear/additive-model.ts';
import { factorOf } from '../stats/numbers/factor.ts';
import { sum } from '../stats/numbers/sum.ts';
import type { CropRecord } from './crop-record.ts';
import { groupBy } from './group-by.ts';

/** How far trees of one cultivar differ, by a factor: told from the trees of all cultivars. */
export interface SharedSpread {
  /** Standard deviation of the natural logarithm; undefined where too few trees tell it. */
  readonly sd: number | undefined;
  /** Degrees of freedom of trees; not whole where seasons of a tree tell something beside. */
  readonly df: number;
  readonly luck: FruitLuck;
}

/** What the luck of fruit does to the logarithm of a figure: as variances. */
export interface FruitLuck {
  /** Of a figure that rests on a single fruit; on n fruit it is the n-th part. */
  readonly ofOne: number;
  /** What the trees that tell the spread have of it on average, so what the spread holds already. */
  readonly told: number;
}

/** A figure whose spread between trees is asked for. */
export interface SpreadFigure {
  /** A positive figure of the records of one tree; undefined where there is none. */
  readonly of: (own: readonly CropRecord[]) => number | undefined;
  /** How many fruit it rests on. */
  readonly fruit: (own: readonly CropRecord[]) => number;
  /** Variance of the logarithm of the figure of a single fruit. */
  readonly luckOfOne: (records: readonly CropRecord[]) => number;
}

/** Stands for no fruit where a logarithm is taken. */
export const HALF_A_FRUIT = 0.5;

/** Fewer degrees of freedom than this tell no spread worth an interval; our own choice, no source. */
const LEAST_DF = 3;

/**
 * The spread between trees of a cultivar, crop by crop. Each tree has one figure over all its
 * seasons, or one a season where `apart` is set; the spread is what is left of its logarithm once
 * cultivar and site are taken out by least squares, squares and degrees of freedom added up over
 * the seasons: the pooled error of a trial (Gomez & Gomez 1984, Statistical Procedures for
 * Agricultural Research, 2nd ed., section 2.1) on the scale where trees differ by a factor.
 *
 * A tree that is heavy in one season is often heavy in the next, so its seasons do not tell as much
 * as that many trees: the degrees of freedom are divided by the design effect of clusters,
 * 1 + (seasons - 1) x correlation (Kish 1965, Survey Sampling, section 5.4; from memory), which is
 * how much more figures over all seasons vary between trees than those of unlike seasons would.
 *
 * @param records of all cultivars, whichever are shown
 */
export function sharedSpreads(
  records: readonly CropRecord[],
  figure: SpreadFigure,
  apart: 'seasons' | 'nothing',
): ReadonlyMap<Crop, SharedSpread> {
  return new Map(
    CROPS.flatMap((crop) => {
      const own = records.filter((record) => record.crop === crop);
      return own.length === 0 ? [] : [[crop, sharedSpread(own, figure, apart)] as const];
    }),
  );
}

function sharedSpread(
  records: readonly CropRecord[],
  figure: SpreadFigure,
  apart: 'seasons' | 'nothing',
): SharedSpread {
  const once = residual(records, figure);
  const parts =
    apart === 'nothing'
      ? [once]
      : [...groupBy(records, ({ season }) => season).values()].map((part) =>
          residual(part, figure),
        );
  const rows = sum(parts.map((part) => part.df));
  const squares = sum(parts.map((part) => part.squares));
  const trees = Math.min(rows, Math.max(once.df, ...parts.map((part) => part.df)));
  const unlike =
    rows > 0 && once.squares > 0 ? (once.df * (squares / rows)) / (once.squares / once.df) : rows;
  const fruit = parts.flatMap((part) => part.fruit);
  const ofOne = figure.luckOfOne(records);
  return {
    sd: trees >= LEAST_DF && squares > 0 ? Math.sqrt(squares / rows) : undefined,
    df: Math.min(rows, Math.max(trees, unlike)),
    luck: { ofOne, told: mean(fruit.map((count) => ofOne / count)) ?? 0 },
  };
}

interface Residual {
  readonly squares: number;
  readonly df: number;
  /** Of each tree that is not the only one of its cultivar. */
  readonly fruit: readonly number[];
}

function residual(records: readonly CropRecord[], figure: SpreadFigure): Residual {
  const trees = [...groupBy(records, ({ tree }) => tree).values()].flatMap((own) => {
    const [value, last] = [figure.of(own), own.at(-1)];
    if (value === undefined || last === undefined) return [];
    const fruit = Math.max(figure.fruit(own), HALF_A_FRUIT);
    return [{ y: Math.log(value), cultivar: last.tree.cultivar.key, site: last.site, fruit }];
  });
  const cultivars = factorOf(trees.map(({ cultivar }) => cultivar));
  const model = additiveModel({
    y: trees.map(({ y }) => y),
    treatment: cultivars.levels,
    treatments: cultivars.count,
    factors: [factorOf(trees.map(({ site }) => site))],
  });
  if (model?.residualVariance === undefined) return { squares: 0, df: 0, fruit: [] };
  return {
    squares: model.residualVariance * model.df,
    df: model.df,
    fruit: trees
      .filter((_, at) => (model.counts[cultivars.levels[at] ?? 0] ?? 0) > 1)
      .map(({ fruit }) => fruit),
  };
}

/**
 * Variance of the logarithm of a row's figure: that of so many trees, and where the row has fewer fruit than the trees
 * that told the spread, what their luck does more to it. Never less than that of the trees alone.
 *
 * @param fruit how many the figure rests on
 */
export function varianceOfRow(
  sd: number,
  { ofOne, told }: FruitLuck,
  { trees, fruit }: { readonly trees: number; readonly fruit: number },
): number {
  return (sd * sd - told) / trees + Math.max(told / trees, ofOne / Math.max(fruit, HALF_A_FRUIT));
}
