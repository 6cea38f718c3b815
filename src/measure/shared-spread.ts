import { CROPS, type Crop } from '../model/ledger.ts';
import { additiveModel } from '../stats/linear/additive-model.ts';
import type { Factor } from '../stats/numbers/factor.ts';
import { sum } from '../stats/numbers/sum.ts';
import type { CropRecord } from './crop-record.ts';
import { groupBy } from './group-by.ts';

/** How far trees of one cultivar differ, by a factor: told from the trees of all cultivars. */
export interface SharedSpread {
  /** Standard deviation of the natural logarithm; undefined where too few trees tell it. */
  readonly sd: number | undefined;
  readonly df: number;
}

/** Fewer degrees of freedom than this tell no spread worth an interval; our own choice, no source. */
const LEAST_DF = 3;

/**
 * The spread between trees of a cultivar, crop by crop. Each tree has one figure over all its
 * seasons, or one a season where `apart` is set; the spread is what is left of its logarithm once
 * cultivar and site are taken out by least squares, squares and degrees of freedom added up over
 * the seasons: the pooled error of a trial (Gomez & Gomez 1984, Statistical Procedures for
 * Agricultural Research, 2nd ed., section 2.1) on the scale where trees differ by a factor.
 *
 * @param records of all cultivars, whichever are shown
 * @param figureOf a positive figure of the records of one tree; undefined where there is none
 */
export function sharedSpreads(
  records: readonly CropRecord[],
  figureOf: (own: readonly CropRecord[]) => number | undefined,
  apart: 'seasons' | 'nothing',
): ReadonlyMap<Crop, SharedSpread> {
  return new Map(
    CROPS.flatMap((crop) => {
      const own = records.filter((record) => record.crop === crop);
      if (own.length === 0) return [];
      const parts = [
        ...groupBy(own, ({ season }) => (apart === 'seasons' ? season : 0)).values(),
      ].flatMap((part) => residual(part, figureOf));
      const df = sum(parts.map((part) => part.df));
      const squares = sum(parts.map((part) => part.squares));
      const isTold = df >= LEAST_DF && squares > 0;
      return [[crop, { sd: isTold ? Math.sqrt(squares / df) : undefined, df }] as const];
    }),
  );
}

function residual(
  records: readonly CropRecord[],
  figureOf: (own: readonly CropRecord[]) => number | undefined,
): { readonly squares: number; readonly df: number }[] {
  const trees = [...groupBy(records, ({ tree }) => tree).values()].flatMap((own) => {
    const [figure, last] = [figureOf(own), own.at(-1)];
    if (figure === undefined || last === undefined) return [];
    return [{ y: Math.log(figure), cultivar: last.tree.cultivar.key, site: last.site }];
  });
  const cultivars = numbered(trees.map(({ cultivar }) => cultivar));
  const model = additiveModel({
    y: trees.map(({ y }) => y),
    treatment: cultivars.levels,
    treatments: cultivars.count,
    factors: [numbered(trees.map(({ site }) => site))],
  });
  if (model?.residualVariance === undefined) return [];
  return [{ squares: model.residualVariance * model.df, df: model.df }];
}

function numbered(values: readonly string[]): Factor {
  const places = new Map([...new Set(values)].map((value, place) => [value, place]));
  return { levels: values.map((value) => places.get(value) ?? 0), count: places.size };
}
