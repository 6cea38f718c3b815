import type { ReportRequest } from './report-request.ts';
import { type OrderedRows, orderRows } from './row-order.ts';
import type { Column, Row } from './table.ts';
import { counted } from './words.ts';

/**
 * Rows that a report has put in order itself, in blocks such as a crop and trait: `top` counts
 * within a block. Sorted by a column that was asked for, they are one block.
 *
 * @param each what a block is, for people, as "crop and trait"
 * @throws UnknownColumn
 */
export function orderBlocks(
  columns: readonly Column[],
  blocks: readonly (readonly Row[])[],
  each: string,
  { sort, top }: Pick<ReportRequest, 'sort' | 'top'>,
): OrderedRows {
  if (sort !== undefined) return orderRows(columns, blocks.flat(), { blocks: [] }, { sort, top });
  const rows = blocks.flatMap((block) => block.slice(0, top ?? block.length));
  const gone = blocks.flat().length - rows.length;
  if (top === undefined || gone === 0) return { rows, cut: undefined };
  const first = top === 1 ? 'The first row' : `The first ${top} rows`;
  const ofEach = blocks.length === 1 ? '' : ` of each ${each}`;
  const are = top === 1 ? 'is' : 'are';
  return { rows, cut: `${first}${ofEach} ${are} shown; ${counted(gone, 'row')} left out.` };
}
