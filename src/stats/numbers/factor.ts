/** A way in which the rows are divided: the level of each row, 0 to count - 1. */
export interface Factor {
  readonly levels: readonly number[];
  readonly count: number;
}

/**
 * Refuses a factor that does not give each row one of its levels.
 *
 * @throws RangeError if the number of levels is not that of the rows, or a level is out of bounds
 */
export function requireLevels(rows: number, { levels, count }: Factor): void {
  if (levels.length !== rows) throw new RangeError(`${rows} rows, but ${levels.length} levels`);
  for (const level of levels) {
    if (!(Number.isInteger(level) && level >= 0 && level < count)) {
      throw new RangeError(`level ${level} is not a whole number from 0 to ${count - 1}`);
    }
  }
}

/** The factor of some labels: levels are numbered in the order in which labels first come. */
export function factorOf(labels: readonly unknown[]): Factor {
  const places = new Map([...new Set(labels)].map((label, place) => [label, place]));
  return { levels: labels.map((label) => places.get(label) ?? 0), count: places.size };
}
