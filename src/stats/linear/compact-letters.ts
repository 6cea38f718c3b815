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
  const places = order.map((_, place) => place);
  let columns: Column[] = order.length === 0 ? [] : [new Set(places)];
  for (const low of places) {
    for (const high of places.slice(low + 1)) {
      if (differs(order[low] ?? low, order[high] ?? high)) columns = split(columns, low, high);
    }
  }
  const kept = withoutIdleColumns(columns.sort(byFirstPlaces), order.length);
  return places.map((place) =>
    kept.map((column, at) => (column.has(place) ? letter(at) : '')).join(''),
  );
}

type Column = ReadonlySet<number>;

/** Insert and absorb for one differing pair. */
function split(columns: readonly Column[], low: number, high: number): Column[] {
  const whole = columns.filter((column) => !(column.has(low) && column.has(high)));
  if (whole.length === columns.length) return whole;
  const halves = columns
    .filter((column) => column.has(low) && column.has(high))
    .flatMap((column) => [without(column, high), without(column, low)]);
  // Largest first, so that a half can only lie inside a column that is already there.
  const result = [...whole];
  for (const half of halves.sort((a, b) => b.size - a.size)) {
    if (!result.some((other) => isWithin(half, other))) result.push(half);
  }
  return result;
}

function without(column: Column, place: number): Column {
  const rest = new Set(column);
  rest.delete(place);
  return rest;
}

function isWithin(inner: Column, outer: Column): boolean {
  if (inner.size > outer.size) return false;
  for (const place of inner) if (!outer.has(place)) return false;
  return true;
}

/** Columns in the order in which a reader going down the table first meets them. */
function byFirstPlaces(a: Column, b: Column): number {
  const [left, right] = [[...a].sort(ascending), [...b].sort(ascending)];
  for (const [at, place] of left.entries()) {
    const other = right[at];
    if (other === undefined) return -1;
    if (place !== other) return place - other;
  }
  return left.length - right.length;
}

const ascending = (a: number, b: number): number => a - b;

function withoutIdleColumns(columns: readonly Column[], size: number): Column[] {
  const shared = new Int32Array(size * size);
  const eachPair = (column: Column, act: (pair: number) => void): void => {
    for (const i of column) for (const j of column) act(i * size + j);
  };
  const count = (column: Column, by: number): void =>
    eachPair(column, (pair) => {
      shared[pair] = (shared[pair] ?? 0) + by;
    });
  for (const column of columns) count(column, 1);
  const kept: Column[] = [];
  for (const column of [...columns].reverse()) {
    let idle = true;
    eachPair(column, (pair) => {
      if (shared[pair] === 1) idle = false;
    });
    if (idle) count(column, -1);
    else kept.unshift(column);
  }
  return kept;
}

const ALPHABET = 'abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ';

function letter(index: number): string {
  const round = Math.floor(index / ALPHABET.length);
  return `${ALPHABET[index % ALPHABET.length]}${round === 0 ? '' : round}`;
}
