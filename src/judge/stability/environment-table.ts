import { CONFIDENCE } from '../../measure/confidence.ts';
import { type CropRecord, selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Selection } from '../../measure/selection.ts';
import { soundnessFigures } from '../../measure/soundness-figures.ts';
import { meanWeight } from '../../measure/weight-figures.ts';
import { fruitPerBranch } from '../../measure/yield-figures.ts';
import type { Cultivar } from '../../model/collection.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { mean } from '../../stats/describe/mean.ts';
import type { TastedScore } from '../scores/tasted-scores.ts';
import { tastedScores } from '../scores/tasted-scores.ts';

/** Measured figures whose steadiness can be told; any other word is a trait. */
export const STEADY_PARTS = ['productivity', 'size', 'soundness'] as const;
export type SteadyPart = (typeof STEADY_PARTS)[number];

export function isSteadyPart(of: string): of is SteadyPart {
  return (STEADY_PARTS as readonly string[]).includes(of);
}

/** A season at a site: what a crop has to make the best of. */
export interface Environment {
  readonly season: number;
  /** Key. */
  readonly site: string;
}

/** One figure of one crop, by cultivar and environment. */
export interface EnvironmentTable {
  /** Those with a figure anywhere, in the ledger's order. */
  readonly cultivars: readonly Cultivar[];
  /** Those with a figure of any cultivar, oldest season first, sites in the ledger's order. */
  readonly environments: readonly Environment[];
  /** By cultivar, then environment; undefined where there is no figure. */
  readonly values: readonly (readonly (number | undefined)[])[];
}

/**
 * The figure of each cultivar in each season at each site where it has one: fruit per branch, mean
 * fruit weight (g) or share of sound fruit, each over the cultivar's trees there, or the mean of all
 * scores of a trait given to fruit tasted ripe.
 *
 * @param of a measured part or a trait
 */
export function environmentTable(
  ledger: Ledger,
  selection: Selection,
  crop: Crop,
  of: string,
): EnvironmentTable {
  const figures = isSteadyPart(of)
    ? measured(selectRecords(ledger, { ...selection, crops: [crop] }), of)
    : tasted(tastedScores(ledger, { ...selection, crops: [crop] }), of);
  const keys = new Set(figures.map(({ cell }) => environmentKey(cell)));
  const environments = ledger.seasons
    .flatMap(({ year }) =>
      [...ledger.trial.sites.keys()].map((site): Environment => ({ season: year, site })),
    )
    .filter((one) => keys.has(environmentKey(one)));
  const byCultivar = groupBy(figures, ({ cell }) => cell.cultivar);
  const cultivars = [...ledger.cultivars.values()].filter((one) => byCultivar.has(one));
  return {
    cultivars,
    environments,
    values: cultivars.map((cultivar) => {
      const own = byCultivar.get(cultivar) ?? [];
      const values = new Map(own.map(({ cell, value }) => [environmentKey(cell), value]));
      return environments.map((one) => values.get(environmentKey(one)));
    }),
  };
}

interface Cell extends Environment {
  readonly cultivar: Cultivar;
}

interface Figure {
  readonly cell: Cell;
  readonly value: number;
}

function environmentKey({ season, site }: Environment): string {
  return `${season} ${site}`;
}

function measured(records: readonly CropRecord[], of: SteadyPart): Figure[] {
  return figuresOf(
    records,
    ({ tree, season, site }) => ({ cultivar: tree.cultivar, season, site }),
    (own) => measure(own, of),
  );
}

/** Any confidence would do: only the middle of the estimates is used here. */
function measure(records: readonly CropRecord[], of: SteadyPart): number | undefined {
  switch (of) {
    case 'productivity':
      return fruitPerBranch(records, CONFIDENCE)?.value;
    case 'size':
      return meanWeight(records, CONFIDENCE)?.value;
    case 'soundness':
      return soundnessFigures(records, CONFIDENCE).share;
  }
}

function tasted(scores: readonly TastedScore[], trait: string): Figure[] {
  return figuresOf(
    scores.filter(({ score }) => score.trait === trait),
    ({ score, tasting, site }) => ({
      cultivar: score.sample.tree.cultivar,
      season: tasting.season,
      site,
    }),
    (own) => mean(own.map(({ score }) => score.value)),
  );
}

/** One figure for all the entries of a cell, where they give one. */
function figuresOf<T>(
  entries: readonly T[],
  cellOf: (entry: T) => Cell,
  figure: (own: readonly T[]) => number | undefined,
): Figure[] {
  const placed = entries.map((entry) => ({ entry, cell: cellOf(entry) }));
  const cells = groupBy(placed, ({ cell }) => `${environmentKey(cell)} ${cell.cultivar.key}`);
  return [...cells.values()].flatMap((own) => {
    const [first] = own;
    const value = figure(own.map(({ entry }) => entry));
    return first === undefined || value === undefined ? [] : [{ cell: first.cell, value }];
  });
}
