import { type Factor, requireLevels } from '../numbers/factor.ts';

/**
 * The indicator columns of an additive model, one a factor and level, numbered through: those of one
 * factor are absorbed (swept out level by level), those of the others are explicit.
 */
export interface AdditiveLayout {
  readonly rows: number;
  readonly columns: number;
  /** number of the first column of each factor */
  readonly offsets: readonly number[];
  /** rows of each column */
  readonly counts: Float64Array;
  /** for each row, its column of the absorbed factor */
  readonly absorbed: Int32Array;
  /** for each row, the places of its explicit columns among `explicitColumns`, factor by factor */
  readonly places: readonly Int32Array[];
  /** column of each place: all explicit columns that any row has */
  readonly explicitColumns: readonly number[];
}

/**
 * Numbers the columns and chooses which factor to absorb: the one with the most levels, other than
 * `keep`. If only `keep` is left, a constant is added and absorbed.
 *
 * @param rows how many rows
 * @param factors one or more, a level for every row
 * @param keep index of a factor that must stay explicit
 * @throws RangeError if a factor has not one level a row, or a level is out of bounds
 */
export function additiveLayout(
  rows: number,
  factors: readonly Factor[],
  keep?: number,
): AdditiveLayout {
  for (const factor of factors) requireLevels(rows, factor);
  const candidates = [...factors.keys()].filter((at) => at !== keep);
  const constant: Factor = { levels: new Array<number>(rows).fill(0), count: 1 };
  const all = candidates.length === 0 ? [...factors, constant] : factors;
  const most = candidates.reduce(
    (best, at) => ((all[at]?.count ?? 0) > (all[best]?.count ?? 0) ? at : best),
    candidates[0] ?? factors.length,
  );

  const offsets: number[] = [];
  let columns = 0;
  for (const factor of all) {
    offsets.push(columns);
    columns += factor.count;
  }
  const numbered = all.map((factor, at) =>
    Int32Array.from(factor.levels, (level) => level + (offsets[at] ?? 0)),
  );
  const counts = new Float64Array(columns);
  for (const list of numbered) for (const column of list) counts[column] = at0(counts, column) + 1;

  const { placeOf, explicitColumns } = numberPlaces(all, offsets, counts, most);
  const places = numbered
    .filter((_, at) => at !== most)
    .map((list) => list.map((column) => placeOf[column] ?? 0));
  const absorbed = numbered[most] ?? new Int32Array(rows);
  return { rows, columns, offsets, counts, absorbed, places, explicitColumns };
}

const at0 = (values: Float64Array, at: number): number => values[at] ?? 0;

/** Places for the columns that are in use, all but those of the absorbed factor. */
function numberPlaces(
  all: readonly Factor[],
  offsets: readonly number[],
  counts: Float64Array,
  absorbed: number,
) {
  const placeOf = new Int32Array(counts.length);
  const explicitColumns: number[] = [];
  for (const [at, factor] of all.entries()) {
    if (at === absorbed) continue;
    for (let level = 0; level < factor.count; level++) {
      const column = (offsets[at] ?? 0) + level;
      if (at0(counts, column) > 0) placeOf[column] = explicitColumns.push(column) - 1;
    }
  }
  return { placeOf, explicitColumns };
}
