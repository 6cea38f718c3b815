import { namedColumn } from './named-column.ts';
import type { ReportRequest } from './report-request.ts';
import type { Cell, Column, Row } from './table.ts';
import { counted } from './words.ts';

/** The order a report has where none is asked for: rows of one block stand together. */
export interface OwnOrder {
  /** Keys of columns, of which each combination is a block; `top` counts within a block. */
  readonly blocks: readonly string[];
  /** Key of the column that rows of a block are sorted by. */
  readonly key?: string | undefined;
}

interface OrderedRows {
  readonly rows: readonly Row[];
  /** What was cut off, in words. */
  readonly cut: string | undefined;
}

/**
 * Sorts rows and cuts them to the first `top`. Blanks come last either way; rows that are equal
 * keep the order of keys.
 *
 * @param sort key or label of a column, `:asc` or `:desc` behind it; numbers come from the greatest and text and
 * dates from the first where no direction is given
 * @throws UnknownColumn
 */
export function orderRows(
  columns: readonly Column[],
  rows: readonly Row[],
  own: OwnOrder,
  { sort, top }: { readonly sort?: string | undefined; readonly top?: number | undefined },
): OrderedRows {
  if (sort !== undefined) {
    const sorted = rows.toSorted(comparator(columns, sort));
    return cutBlocks([sorted], top, '');
  }
  const inBlock = own.key === undefined ? () => 0 : comparator(columns, own.key);
  const blocks = new Map<string, Row[]>();
  for (const row of rows.toSorted(comparators(own.blocks.map((key) => comparator(columns, key))))) {
    const name = JSON.stringify(own.blocks.map((key) => row[key] ?? null));
    blocks.set(name, [...(blocks.get(name) ?? []), row]);
  }
  const sorted = [...blocks.values()].map((block) => block.toSorted(inBlock));
  return cutBlocks(sorted, top, ` of each ${own.blocks.join(' and ')}`);
}

function cutBlocks(
  blocks: readonly (readonly Row[])[],
  top: number | undefined,
  ofEach: string,
): OrderedRows {
  const all = blocks.flat();
  if (top === undefined) return { rows: all, cut: undefined };
  const rows = blocks.flatMap((block) => block.slice(0, top));
  const gone = all.length - rows.length;
  if (gone === 0) return { rows, cut: undefined };
  const first = top === 1 ? 'The first row' : `The first ${top} rows`;
  const are = top === 1 ? 'is' : 'are';
  const each = blocks.length === 1 ? '' : ofEach;
  return { rows, cut: `${first}${each} ${are} shown; ${counted(gone, 'row')} left out.` };
}

type Comparator = (a: Row, b: Row) => number;

function comparators(all: readonly Comparator[]): Comparator {
  return (a, b) => {
    for (const compare of all) {
      const order = compare(a, b);
      if (order !== 0) return order;
    }
    return 0;
  };
}

function comparator(columns: readonly Column[], sort: string): Comparator {
  const [, name = sort, direction] = /^(.*?)(?::(asc|desc))?$/.exec(sort) ?? [];
  const column = namedColumn(columns, name);
  const { key } = column;
  const isRising = direction ? direction === 'asc' : ['text', 'date'].includes(column.kind);
  return (a, b) => compareCells(a[key] ?? null, b[key] ?? null, isRising ? 1 : -1);
}

function compareCells(a: Cell, b: Cell, sign: 1 | -1): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  return a === b ? 0 : a < b ? -sign : sign;
}

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
