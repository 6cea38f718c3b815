import { groupBy } from '../measure/group-by.ts';
import type { MeasuredPart } from '../model/ledger.ts';
import { compositeScores } from '../stats/describe/composite-scores.ts';
import { pooledVariance } from '../stats/describe/pooled-variance.ts';
import { straightLineBand } from '../stats/describe/straight-line-band.ts';
import type { IndexPart } from '../stats/mixed/index-draws.ts';
import type { ItemPlate } from '../stats/mixed/item-doubt.ts';
import {
  logScale,
  type MeasuredScale,
  rateFigure,
  rootScale,
  type ScaledFigure,
  shareFigure,
  shareScale,
  sizeFigure,
} from '../stats/mixed/measured-scale.ts';
import { type MixedDraws, mixedDraws } from '../stats/mixed/mixed-draws.ts';
import { type MeasuredFigure, partDraws } from '../stats/mixed/part-draws.ts';
import { sum } from '../stats/numbers/sum.ts';
import type { HarvestRow, JudgedTrial, TastedRow } from './judged-trial.ts';
import { numbering } from './numbering.ts';

export interface DrawOptions {
  /** Even. */
  readonly draws: number;
  readonly seed: number;
}

/** Draws of items with what they rest on. */
export interface DrawnItems {
  /** By item; absent for one without evidence. */
  readonly items: ItemDraws;
  /** Draws of the spreads of the model; absent where there was nothing to model. */
  readonly spreads: MixedDraws['spreads'] | undefined;
  /** What an item's draws rest on, plates tasted or trees measured in a season; listed when it is asked for. */
  readonly plates: (item: number) => readonly ItemPlate[];
}

/** A part of the index with the draws of its items; the tasted traits together are one. */
export interface DrawnPart extends IndexPart, DrawnItems {
  readonly part: MeasuredPart | 'taste';
  readonly items: ItemDraws;
}

type ItemDraws = readonly (Float64Array | undefined)[];

/**
 * Draws of every weighted part of the index on the ledger's scale, draw d of all parts and items
 * belonging together. The tasted traits are drawn as one part, their weighted mean plate by plate,
 * so that what they share (a good evening, a kind taster, a halo) is not counted twice.
 *
 * Each part has a mixed model of its own (see `mixedDraws`); measured figures are modelled tree by
 * tree and season by season on a scale that evens their spread, and put on the ledger's scale by
 * their bands draw by draw.
 */
export function drawParts(trial: JudgedTrial, options: DrawOptions): readonly DrawnPart[] {
  const traitWeight = sum(trial.traits.map(({ weight }) => weight));
  const tasted: readonly DrawnPart[] =
    traitWeight > 0
      ? [{ part: 'taste', weight: traitWeight, ...drawTaste(trial, trial.traits, options) }]
      : [];
  const measured = trial.measured.map(({ part, weight, band }, at) => {
    const toScale = straightLineBand(band);
    const own = { ...options, seed: options.seed + at + 1 };
    const drawn = drawMeasured(trial, part, own);
    return { part, weight, ...drawn, items: drawn.items.map((draws) => draws && toScale(draws)) };
  });
  return [...tasted, ...measured];
}

/** Draws of what items are worth to the tongue: the weighted mean of some traits, by item. */
export function drawTaste(
  trial: JudgedTrial,
  traits: JudgedTrial['traits'],
  { draws, seed }: DrawOptions,
): DrawnItems {
  const places = traits.map(({ key }) => trial.traits.findIndex((trait) => trait.key === key));
  const composite = compositeScores(
    places.map((place) => trial.tasted.map(({ scores }) => scores[place])),
    traits.map(({ weight }) => weight),
    trial.tasted.map(({ item }) => item),
  );
  const rows: TastedRow[] = [];
  const y: number[] = [];
  for (let at = 0; at < composite.length; at++) {
    const value = composite[at];
    if (value === undefined) continue;
    rows.push(trial.tasted[at] as TastedRow);
    y.push(value);
  }
  if (rows.length === 0) return nothing(trial);
  const drawn = mixedDraws(
    {
      y,
      item: rows.map(({ item }) => item),
      season: rows.map(({ season }) => season),
      tree: rows.map(({ tree }) => tree),
      plate: rows.map(({ plate }) => plate),
      block: renumbered(rows.map(({ sitting }) => sitting)),
      factors: [
        renumbered(rows.map(({ taster }) => taster)),
        renumbered(rows.map(({ site }) => site)),
      ],
    },
    {
      draws,
      seed,
      scale: (trial.scale.high - trial.scale.low) / 6,
      resolution: resolutionOf(rows, traits),
    },
  );
  return backed(trial, rows, drawn.items, drawn);
}

/** Draws of a measured part in its own unit (fruit per branch, g, share), by item. */
export function drawMeasured(
  trial: JudgedTrial,
  part: MeasuredPart,
  options: DrawOptions,
): DrawnItems {
  const { scale, figureOf } = measuredPart(trial, part);
  const seasons = numbering<number>();
  const sites = numbering<number>();
  const figures: MeasuredFigure[] = [];
  const plates: BackedRow[] = [];
  for (const row of trial.harvested) {
    const figure = figureOf(row);
    if (figure === undefined) continue;
    const { item, tree, season } = row;
    const { value, variance } = figure;
    figures.push({ item, tree, season: seasons(season), site: sites(row.site), value, variance });
    plates.push({ item, season, tree, plate: plates.length });
  }
  if (figures.length === 0) return nothing(trial);
  const { items, model } = partDraws(figures, scale, options);
  return backed(trial, plates, items, model);
}

interface PartModel {
  readonly scale: MeasuredScale;
  figureOf(row: HarvestRow): ScaledFigure | undefined;
}

function measuredPart(trial: JudgedTrial, part: MeasuredPart): PartModel {
  switch (part) {
    case 'productivity':
      return {
        scale: rootScale,
        figureOf: ({ borne }) => borne && rateFigure(borne.sum, borne.of),
      };
    case 'size': {
      const spread = pooledVariance(
        trial.harvested.map(({ weighed }) => (weighed?.singles ?? []).map(Math.log)),
      );
      return {
        scale: logScale,
        figureOf: ({ weighed }) =>
          weighed && meanSize(weighed.sum / weighed.of, weighed.of, spread),
      };
    }
    case 'soundness':
      return {
        scale: shareScale,
        figureOf: ({ sound }) => sound && shareFigure(sound.sum, sound.of),
      };
    case 'ripened':
      return {
        scale: shareScale,
        figureOf: ({ ripened }) => ripened && shareFigure(ripened.sum, ripened.of),
      };
  }
}

/** The pooled variance is of logarithms, so relative to the mean. */
function meanSize(mean: number, fruit: number, spread: number): ScaledFigure {
  return sizeFigure(mean, (spread * mean * mean) / fruit);
}

/** Step to which the weighted mean of scores was rounded, from the steps of the scores themselves. */
function resolutionOf(rows: readonly TastedRow[], traits: JudgedTrial['traits']): number {
  const total = sum(traits.map(({ weight }) => weight));
  const isStep = (one: number) =>
    rows.every(({ scores }) =>
      scores.every((score) => score === undefined || Number.isInteger(score / one)),
    );
  const step = STEPS.find(isStep) ?? 0;
  return step * Math.hypot(...traits.map(({ weight }) => weight / total));
}

/** Steps that people score in; where none fits, scores are taken as not rounded. */
const STEPS = [1, 0.5, 0.25];

/** Numbers in use, from 0 upward without gaps. */
function renumbered(numbers: readonly number[]): readonly number[] {
  const place = numbering<number>();
  return numbers.map((number) => place(number));
}

function nothing({ items }: JudgedTrial): DrawnItems {
  return {
    items: Array.from({ length: items }, () => undefined),
    spreads: undefined,
    plates: () => [],
  };
}

type BackedRow = Pick<TastedRow, 'item' | 'season' | 'tree' | 'plate'>;

function backed(
  trial: JudgedTrial,
  rows: readonly BackedRow[],
  items: ItemDraws,
  { spreads }: MixedDraws,
): DrawnItems {
  return {
    // Items after the last that was seen have no draws either.
    items: Array.from({ length: trial.items }, (_, item) => items[item]),
    spreads,
    plates: (item) => platesOf(rows.filter((row) => row.item === item)),
  };
}

function platesOf(rows: readonly BackedRow[]): readonly ItemPlate[] {
  return [...groupBy(rows, ({ plate }) => plate).values()].flatMap((own) => {
    const [first] = own;
    return first === undefined
      ? []
      : [{ season: first.season, tree: first.tree, observations: own.length }];
  });
}
