import type { Band, MeasuredPart } from '../../model/ledger.ts';
import { compositeScores } from '../../stats/describe/composite-scores.ts';
import { pooledVariance } from '../../stats/describe/variance.ts';
import type { JointPart, JointTrial } from '../../stats/joint/joint-trial.ts';
import {
  logScale,
  type MeasuredScale,
  rateFigure,
  rootScale,
  type ScaledFigure,
  shareFigure,
  shareScale,
  sizeFigure,
} from '../../stats/mixed/measured-scale.ts';
import { sum } from '../../stats/numbers/sum.ts';
import type { HarvestRow, JudgedTrial, TastedRow } from './judged-trial.ts';
import { numbering } from './numbering.ts';

/** Of the ledger's scale: how far apart plates are reckoned to be before anything was seen. */
const TASTE_SPREAD = 1 / 6;
/** From this age on a tree is grown for every purpose. */
const GROWN = 12;

/** What a part is in the model, and how figures are had from it. */
export interface LaidValues {
  /** Absent for what was tasted, which stands on the ledger's scale as it is. */
  readonly measured: { readonly scale: MeasuredScale; readonly band: Band | undefined } | undefined;
  readonly model: JointPart;
}

/** A part of the index in the model: the tasted traits together are one, unless they are asked for apart. */
export interface LaidPart extends LaidValues {
  /** A measured part, `taste`, or the key of a trait. */
  readonly part: string;
  readonly weight: number;
  /** How many of the observations have a figure; the others, behind them, are known by their order alone. */
  readonly scored: number;
}

/** A crop's trial as the model takes it. */
export interface LaidTrial {
  readonly trial: JointTrial;
  /** In the order of the parts of `trial`. */
  readonly parts: readonly LaidPart[];
  /** Which of the judged trial's items the model's are: those of which something weighed was seen. */
  readonly items: readonly number[];
}

/**
 * Lays a trial out for the joint model. Taste: a row for each sheet of a plate, the weighted mean of its scores.
 * Measured parts: a row for each tree and season, on a scale that evens their spread. Parts of which nothing was seen
 * are left out.
 *
 * @param apart whether each trait is a part of its own
 */
export function layOut(trial: JudgedTrial, apart = false): LaidTrial | undefined {
  const seen: readonly (LaidPart | undefined)[] = [
    ...(apart
      ? trial.traits.map((trait) => tastedPart(trial, [trait], trait.key))
      : [tastedPart(trial, trial.traits, 'taste')]),
    ...trial.measured.map(({ part, weight, band }) => {
      const { scale, figureOf } = measuredPart(trial, part);
      const model = measuredModel(trial, scale, figureOf);
      // The branches of a young tree count as part of a grown one's.
      const aged =
        part === 'productivity' ? model && { ...model, aging: 'divides' as const } : model;
      return (
        aged && { part, weight, measured: { scale, band }, model: aged, scored: aged.y.length }
      );
    }),
  ];
  const parts = seen.filter((part) => part !== undefined);
  if (parts.length === 0) return undefined;
  const items = [...new Set(parts.flatMap(({ model }) => model.item))].toSorted((a, b) => a - b);
  const place = numbering<number>(items);
  const placed = parts.map((part) => ({
    ...part,
    model: { ...part.model, item: part.model.item.map(place) },
  }));
  return {
    trial: { items: items.length, sites: trial.sites, parts: placed.map(({ model }) => model) },
    parts: placed,
    items,
  };
}

/**
 * Lays out how the tasted traits differ from one another on a sheet: trait by trait, less the weighted mean of those
 * after it. With the part of taste they make up every trait; see `traitDraws`.
 */
export function layOutContrasts(trial: JudgedTrial): LaidContrasts | undefined {
  const { traits, tasted } = trial;
  const models = traits.slice(0, -1).map((trait, at): JointPart | undefined => {
    const others = traits.slice(at + 1);
    const rest = composite(trial, others);
    const rows: TastedRow[] = [];
    const y: number[] = [];
    tasted.forEach((row, k) => {
      const [own, mean] = [row.scores[at], rest[k]];
      if (own === undefined || mean === undefined) return;
      rows.push(row);
      y.push(own - mean);
    });
    return rows.length === 0 ? undefined : tastedModel(trial, rows, y, [trait, ...others]);
  });
  if (models.length === 0 || models.includes(undefined)) return undefined;
  const parts = models.filter((model) => model !== undefined);
  const items = [...new Set(parts.flatMap(({ item }) => item))].toSorted((a, b) => a - b);
  const place = numbering<number>(items);
  return {
    trial: {
      items: items.length,
      sites: trial.sites,
      parts: parts.map((model) => ({ ...model, item: model.item.map(place) })),
    },
    items,
  };
}

export interface LaidContrasts {
  /** A part for each trait but the last. */
  readonly trial: JointTrial;
  readonly items: readonly number[];
}

function tastedPart(
  trial: JudgedTrial,
  traits: JudgedTrial['traits'],
  part: string,
): LaidPart | undefined {
  const values = composite(trial, traits);
  const rows: TastedRow[] = [];
  const y: number[] = [];
  values.forEach((value, at) => {
    if (value === undefined) return;
    rows.push(trial.tasted[at] as TastedRow);
    y.push(value);
  });
  if (rows.length === 0) return undefined;
  const weight = sum(traits.map(({ weight }) => weight));
  const { model, scored } = withOrders(trial, rows, y, traits);
  return { part, weight, measured: undefined, model, scored };
}

/** A tasted part; where all traits are asked for as one, with the orders of tasters who gave no scores. */
function withOrders(
  trial: JudgedTrial,
  rows: readonly TastedRow[],
  y: readonly number[],
  traits: JudgedTrial['traits'],
): { readonly model: JointPart; readonly scored: number } {
  const scored = rows.length;
  const seen = new Set(rows.map(({ site }) => site));
  // At a site without any score nothing says how high its plates stand.
  const ordered = (traits === trial.traits ? (trial.ordered ?? []) : []).filter((ranks) =>
    ranks.flat().every(({ site }) => seen.has(site)),
  );
  const latent = ordered.flatMap((ranks) =>
    ranks.flatMap((rank, at) => rank.map((row) => ({ row, place: (ranks.length - 1) / 2 - at }))),
  );
  const all = [
    ...rows,
    ...latent.map(({ row }) => ({ ...row, taster: rows[0]?.taster ?? 0, scores: [] })),
  ];
  const middle = sum(y) / Math.max(1, scored);
  const step = (trial.scale.high - trial.scale.low) * TASTE_SPREAD * 0.5;
  const model = tastedModel(
    trial,
    all,
    [...y, ...latent.map(({ place }) => middle + step * place)],
    traits,
  );
  let next = scored;
  return {
    scored,
    model: {
      ...model,
      judge: model.judge?.map((judge, at) => (at < scored ? judge : -1)),
      orders: ordered.map((ranks) => ranks.map((rank) => rank.map(() => next++))),
      age: ages(all),
      aging: 'earns',
    },
  };
}

/** By tasted row, the weighted mean of some traits. */
function composite(
  { traits, tasted }: JudgedTrial,
  some: JudgedTrial['traits'],
): readonly (number | undefined)[] {
  if (some.length === 0) return [];
  const places = some.map(({ key }) => traits.findIndex((trait) => trait.key === key));
  return compositeScores(
    places.map((place) => tasted.map(({ scores }) => scores[place])),
    some.map(({ weight }) => weight),
    tasted.map(({ item }) => item),
  );
}

function tastedModel(
  { scale }: JudgedTrial,
  rows: readonly TastedRow[],
  y: readonly number[],
  traits: JudgedTrial['traits'],
): JointPart {
  return {
    y,
    ...grown(rows),
    plate: rows.map(({ plate }) => plate),
    block: renumbered(rows.map(({ sitting }) => sitting)),
    judge: renumbered(rows.map(({ taster }) => taster)),
    scale: (scale.high - scale.low) * TASTE_SPREAD,
    resolution: resolutionOf(rows, traits),
  };
}

function measuredModel(
  trial: JudgedTrial,
  scale: MeasuredScale,
  figureOf: (row: HarvestRow) => ScaledFigure | undefined,
): JointPart | undefined {
  const rows: HarvestRow[] = [];
  const figures: ScaledFigure[] = [];
  for (const row of trial.harvested) {
    const figure = figureOf(row);
    if (figure === undefined) continue;
    rows.push(row);
    figures.push(figure);
  }
  if (rows.length === 0) return undefined;
  return {
    y: figures.map(({ value }) => value),
    variance: figures.map(({ variance }) => variance),
    ...grown(rows),
    plate: rows.map((_, at) => at),
    block: renumbered(rows.map(({ season }) => season)),
    age: ages(rows),
    scale: scale.spread,
  };
}

type Grown = Pick<TastedRow, 'item' | 'season' | 'tree' | 'site' | 'age'>;

function grown(rows: readonly Grown[]): Pick<JointPart, 'item' | 'season' | 'tree' | 'site'> {
  return {
    item: rows.map(({ item }) => item),
    season: rows.map(({ season }) => season),
    tree: rows.map(({ tree }) => tree),
    site: rows.map(({ site }) => site),
  };
}

function ages(rows: readonly Grown[]): readonly number[] {
  return rows.map(({ age = GROWN }) => (age >= GROWN ? Number.POSITIVE_INFINITY : age));
}

/** How a measured part is modelled. */
export interface MeasuredModel {
  readonly scale: MeasuredScale;
  figureOf(row: HarvestRow): ScaledFigure | undefined;
}

function measuredPart(trial: JudgedTrial, part: MeasuredPart): MeasuredModel {
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

/** Numbers in use, from 0 upward without gaps, in order. */
function renumbered(numbers: readonly number[]): readonly number[] {
  const place = numbering<number>([...new Set(numbers)].toSorted((a, b) => a - b));
  return numbers.map((number) => place(number));
}
