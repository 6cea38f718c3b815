import { type CropRecord, selectRecords } from '../../measure/crop-record.ts';
import { groupBy } from '../../measure/group-by.ts';
import type { Selection } from '../../measure/selection.ts';
import type { Cultivar, Tree } from '../../model/collection.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { mean } from '../../stats/describe/mean.ts';
import { tInterval } from '../../stats/intervals/t-interval.ts';
import { type FinlayWilkinson, finlayWilkinson } from '../../stats/stability/finlay-wilkinson.ts';
import { shuklaVariance, wrickeEcovalence } from '../../stats/stability/shukla-variance.ts';
import { tastedScores } from '../scores/tasted-scores.ts';
import { type Alternation, alternationOf } from './bearing-years.ts';
import { completeBlock } from './complete-block.ts';
import {
  type Environment,
  type EnvironmentTable,
  environmentTable,
  isSteadyPart,
} from './environment-table.ts';

/** How a cultivar's figure follows good and bad environments. */
export interface Slope {
  readonly value: number;
  /** Absent, as the interval, where the line fits exactly: what is left over tells the error. */
  readonly se: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** Environments that the line rests on. */
  readonly environments: number;
}

/** One cultivar's crop over environments. Figures that cannot be had are undefined. */
export interface SteadyRow {
  readonly cultivar: Cultivar;
  /** Environments with a figure. */
  readonly environments: number;
  /** Plain mean over them. */
  readonly mean: number | undefined;
  readonly slope: Slope | undefined;
  readonly shukla: number | undefined;
  readonly wricke: number | undefined;
  readonly alternation: Alternation | undefined;
  readonly trees: number;
}

export interface CropStability {
  readonly crop: Crop;
  readonly rows: readonly SteadyRow[];
  readonly environments: readonly Environment[];
  /** The environments that at least two cultivars share, in the groups that compare. */
  readonly groups: readonly (readonly Environment[])[];
  /** What Shukla's variance and Wricke's ecovalence rest on: cultivars that share all these. */
  readonly block:
    | { readonly cultivars: readonly Cultivar[]; readonly environments: readonly Environment[] }
    | undefined;
}

/** With fewer, a line or a variance over environments says nothing; common practice, no source. */
export const FEWEST_ENVIRONMENTS = 3;
/** With fewer, the rest that a cultivar is held against is mostly itself. */
export const FEWEST_CULTIVARS = 3;

/**
 * How the crop of each cultivar behaves over environments, early and main crop apart.
 *
 * Slopes: Finlay & Wilkinson 1963, over the environments that at least two cultivars share, gaps
 * allowed. Shukla's variance (1972) and Wricke's ecovalence (1962) need a table without gaps: the
 * largest one that there is, of at least three cultivars and environments. Alternation is that of
 * the load, whatever `of` is.
 *
 * A selection of cultivars picks rows: all cultivars take part in how good an environment was.
 *
 * @param of a measured part (see `STEADY_PARTS`) or a trait
 * @param confidence of the interval of the slope, as a fraction
 */
export function stability(
  ledger: Ledger,
  selection: Selection,
  of: string,
  confidence: number,
): readonly CropStability[] {
  const everyone: Selection = { ...selection, cultivars: undefined };
  const crops = selection.crops?.length ? selection.crops : CROPS;
  return CROPS.filter((crop) => crops.includes(crop)).map((crop) => {
    const records = selectRecords(ledger, { ...everyone, crops: [crop] });
    const scores = tastedScores(ledger, { ...everyone, crops: [crop] });
    const tasted = isSteadyPart(of) ? [] : scores.map(({ score }) => score.sample.tree);
    const all = cropStability(ledger, crop, environmentTable(ledger, everyone, crop, of), {
      records: groupBy(records, ({ tree }) => tree.cultivar),
      trees: new Set([...records.map(({ tree }) => tree), ...tasted]),
      confidence,
    });
    const asked = selection.cultivars ?? [];
    const rows = all.rows.filter(
      ({ cultivar }) => asked.length === 0 || asked.includes(cultivar.key),
    );
    return { ...all, rows };
  });
}

interface Beside {
  readonly records: ReadonlyMap<Cultivar, readonly CropRecord[]>;
  readonly trees: ReadonlySet<Tree>;
  readonly confidence: number;
}

function cropStability(
  ledger: Ledger,
  crop: Crop,
  table: EnvironmentTable,
  { records, trees, confidence }: Beside,
): CropStability {
  const shared = sharedColumns(table);
  const values = table.values.map((row) => shared.map((column) => row[column]));
  const lines = finlayWilkinson(values);
  const block = blockFigures(table);
  const seen = new Set([...table.cultivars, ...records.keys()]);
  const rows = [...ledger.cultivars.values()]
    .filter((cultivar) => seen.has(cultivar))
    .map((cultivar): SteadyRow => {
      const at = table.cultivars.indexOf(cultivar);
      const own = (table.values[at] ?? []).filter((value) => value !== undefined);
      return {
        cultivar,
        environments: own.length,
        mean: mean(own),
        slope: slopeOf(values, lines, at, confidence),
        shukla: block?.figures.get(at)?.shukla,
        wricke: block?.figures.get(at)?.wricke,
        alternation: alternationOf(records.get(cultivar) ?? [], ledger.trial.place.latitude),
        trees: [...trees].filter((tree) => tree.cultivar === cultivar).length,
      };
    });
  const environment = (column: number) => table.environments[column] ?? [];
  return {
    crop,
    rows,
    environments: table.environments,
    groups: lines.groups.map((group) => group.flatMap((at) => environment(shared[at] ?? -1))),
    block: block && {
      cultivars: block.rows.flatMap((at) => table.cultivars[at] ?? []),
      environments: block.columns.flatMap(environment),
    },
  };
}

/** Columns with at least two values: one alone tells nothing of how cultivars compare. */
function sharedColumns({ environments, values }: EnvironmentTable): number[] {
  return [...environments.keys()].filter(
    (column) => values.filter((row) => row[column] !== undefined).length > 1,
  );
}

/** A standard error below this is rounding. */
const EXACT = 1e-9;

function slopeOf(
  values: readonly (readonly (number | undefined)[])[],
  { lines, groups }: FinlayWilkinson,
  at: number,
  confidence: number,
): Slope | undefined {
  const line = lines[at];
  if (line === undefined || line.environments < FEWEST_ENVIRONMENTS) return undefined;
  const own = values[at] ?? [];
  const group = groups.find((columns) => columns.some((column) => own[column] !== undefined)) ?? [];
  const members = values.filter((row) => group.some((column) => row[column] !== undefined));
  if (members.length < FEWEST_CULTIVARS) return undefined;
  const { slope: value, standardError, environments } = line;
  if (standardError === undefined || standardError < EXACT) {
    return { value, environments, se: undefined, low: undefined, high: undefined };
  }
  const interval = tInterval(value, standardError, environments - 2, confidence);
  return { value, environments, se: standardError, ...interval };
}

function blockFigures({ values }: EnvironmentTable) {
  const block = completeBlock(
    values.map((row) => row.map((value) => value !== undefined)),
    FEWEST_CULTIVARS,
    FEWEST_ENVIRONMENTS,
  );
  if (block === undefined) return undefined;
  const whole = block.rows.map((row) =>
    block.columns.flatMap((column) => values[row]?.[column] ?? []),
  );
  const { ecovalences } = wrickeEcovalence(whole);
  const variances = shuklaVariance(whole)?.variances ?? [];
  const figures = new Map(
    block.rows.map((row, at) => [row, { wricke: ecovalences[at], shukla: variances[at] }]),
  );
  return { ...block, figures };
}
