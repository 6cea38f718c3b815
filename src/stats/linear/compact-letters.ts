/**
 * Compact letter display: two treatments share a letter if and only if they do not differ.
 *
 * Method: insert and absorb (Piepho 2004, Journal of Computational and Graphical Statistics
 * 13:456-466). All start in one column; each differing pair splits every column that holds both; a
 * column inside another is absorbed. Last, a column whose pairs all share another column anyway is
 * left out, so that no letter is printed in vain.
 *
 * @param differs whether treatments i and j differ, asked both with indices from `order`; symmetric
 * @param order treatment indices, best first: the letter a goes to the column of the first
 * @returns one text for each place in `order`: letters a to z, then A to Z, then a1 to Z1, a2 ...
 * @example compactLetters((i, j) => Math.abs(i - j) > 1, [2, 1, 0]) // => ['a', 'ab', 'b']
 */
export function compactLetters(
  differs: (i: number, j: number) => boolean,
  order: readonly number[],
): string[] {
  const size = order.length;
  let columns: Column[] = size === 0 ? [] : [new Uint8Array(size).fill(1)];
  for (let low = 0; low < size; low++) {
    for (let high = low + 1; high < size; high++) {
      if (differs(order[low] ?? low, order[high] ?? high)) columns = split(columns, low, high);
    }
  }
  const kept = withoutIdleColumns(columns.sort(byFirstPlaces), size);
  return order.map((_, place) =>
    kept.map((column, at) => (column[place] === 1 ? letter(at) : '')).join(''),
  );
}

/** By place 1 for one that has the letter, else 0. */
type Column = Uint8Array;

/** Insert and absorb for one differing pair. */
function split(columns: Column[], low: number, high: number): Column[] {
  if (!columns.some((column) => column[low] === 1 && column[high] === 1)) return columns;
  const result: Column[] = [];
  const halves: Column[] = [];
  for (const column of columns) {
    if (column[low] === 1 && column[high] === 1) {
      halves.push(without(column, high), without(column, low));
    } else result.push(column);
  }
  // Largest first, so that a half can only lie inside a column that is already there.
  halves.sort((a, b) => sizeOf(b) - sizeOf(a));
  for (const half of halves) {
    if (!result.some((other) => isWithin(half, other))) result.push(half);
  }
  return result;
}

function without(column: Column, place: number): Column {
  const rest = column.slice();
  rest[place] = 0;
  return rest;
}

function sizeOf(column: Column): number {
  let size = 0;
  for (let place = 0; place < column.length; place++) size += column[place] as number;
  return size;
}

function isWithin(inner: Column, outer: Column): boolean {
  for (let place = 0; place < inner.length; place++) {
    if ((inner[place] as number) > (outer[place] as number)) return false;
  }
  return true;
}

/** Columns in the order in which a reader going down the table first meets them. */
function byFirstPlaces(a: Column, b: Column): number {
  for (let place = 0; place < a.length; place++) {
    if (a[place] !== b[place]) return rankFrom(a, place) - rankFrom(b, place);
  }
  return 0;
}

/** The next place from one on that a column has. */
function rankFrom(column: Column, place: number): number {
  const next = column.indexOf(1, place);
  return next < 0 ? -1 : next;
}

function withoutIdleColumns(columns: readonly Column[], size: number): Column[] {
  const shared = new Int32Array(size * size);
  for (const column of columns) count(shared, column, 1);
  const kept: Column[] = [];
  for (const column of [...columns].reverse()) {
    if (isIdle(shared, column)) count(shared, column, -1);
    else kept.unshift(column);
  }
  return kept;
}

/** Adds to how many columns hold each pair. */
function count(shared: Int32Array, column: Column, by: number): void {
  for (let i = 0; i < column.length; i++) {
    if (column[i] !== 1) continue;
    for (let j = 0; j < column.length; j++) {
      const pair = i * column.length + j;
      if (column[j] === 1) shared[pair] = (shared[pair] as number) + by;
    }
  }
}

/** Whether other columns hold every pair of a column. */
function isIdle(shared: Int32Array, column: Column): boolean {
  for (let i = 0; i < column.length; i++) {
    if (column[i] !== 1) continue;
    for (let j = 0; j < column.length; j++) {
      if (column[j] === 1 && shared[i * column.length + j] === 1) return false;
    }
  }
  return true;
}

const ALPHABET = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ';

function letter(index: number): string {
  const round = Math.floor(index / ALPHABET.length);
  return `${ALPHABET[index % ALPHABET.length]}${round === 0 ? '' : round}`;
}
