/** Rows and columns of a table that have a value in every crossing. */
export interface CompleteBlock {
  /** Indexes, rising. */
  readonly rows: readonly number[];
  /** Indexes, rising. */
  readonly columns: readonly number[];
}

/** A table with more patterns of gaps than this is searched among the first ones only. */
const MOST_PATTERNS = 4000;

/**
 * The largest part of a table without gaps: the block of at least so many rows and columns that
 * holds most values, of several the one with more columns, then the first.
 *
 * Method: the columns of such a block are what some rows have in common, so it is enough to try the
 * columns of each row and what they share with others.
 *
 * @param has by row and column, whether there is a value
 * @returns undefined if there is no such block
 */
export function completeBlock(
  has: readonly (readonly boolean[])[],
  leastRows: number,
  leastColumns: number,
): CompleteBlock | undefined {
  const owned = has.map((row) => row.flatMap((there, column) => (there ? [column] : [])));
  let best: CompleteBlock | undefined;
  for (const columns of sharedPatterns(owned, leastColumns)) {
    const rows = has.flatMap((row, at) =>
      columns.every((column) => row[column] === true) ? [at] : [],
    );
    if (rows.length < leastRows) continue;
    const gain = rows.length * columns.length - size(best);
    if (gain > 0 || (gain === 0 && columns.length > (best?.columns.length ?? 0))) {
      best = { rows, columns };
    }
  }
  return best;
}

function size(block: CompleteBlock | undefined): number {
  return block === undefined ? 0 : block.rows.length * block.columns.length;
}

/** The sets of columns that rows have, and all their intersections, as long as they are large enough. */
function sharedPatterns(owned: readonly (readonly number[])[], least: number): number[][] {
  const found = new Map<string, number[]>();
  const distinct = new Map(owned.map((own) => [own.join(' '), own]));
  for (const own of distinct.values()) {
    const shared = [...found.values()].map((columns) => columns.filter((one) => own.includes(one)));
    for (const columns of [[...own], ...shared]) {
      if (columns.length >= least && found.size < MOST_PATTERNS) {
        found.set(columns.join(' '), columns);
      }
    }
  }
  return [...found.values()];
}
