import { numberAt } from '../numbers/number-at.ts';
import { requireFinite } from '../numbers/require-finite.ts';

/**
 * What is left of a complete two-way table after row and column means: y_ij - row mean - column
 * mean + mean of all.
 *
 * @param values by row and column
 * @throws RangeError if rows differ in length or a value is not finite
 */
export function interactionResiduals(values: readonly (readonly number[])[]): number[][] {
  const columns = values[0]?.length ?? 0;
  for (const row of values) {
    if (row.length !== columns) throw new RangeError('rows differ in length');
    requireFinite('values', row);
  }
  const mean = (list: readonly number[]) =>
    list.reduce((sum, value) => sum + value, 0) / list.length;
  const rowMeans = values.map(mean);
  const all = mean(rowMeans);
  const columnMeans = Array.from({ length: columns }, (_, j) =>
    mean(values.map((row) => numberAt(row, j))),
  );
  return values.map((row, i) =>
    row.map((value, j) => value - numberAt(rowMeans, i) - numberAt(columnMeans, j) + all),
  );
}
