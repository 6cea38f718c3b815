/** A text file of the ledger as it was read, without its byte order mark. */
export interface SourceFile {
  /** Path relative to the ledger folder, with forward slashes. */
  readonly path: string;
  readonly text: string;
  /** Whether the file began with a byte order mark, which a write must put back. */
  readonly bom: boolean;
}

/** A stretch of a file: `[start, end)` in UTF-16 units of `file.text`. */
export interface Span {
  readonly file: SourceFile;
  readonly start: number;
  readonly end: number;
}

/** The way to a value: keys of maps and indexes of lists, from the root of the file. */
export type ValuePath = readonly (string | number)[];

/**
 * A value of a file named by its way from the root. Finding its offsets means walking the file
 * again, so a spot is turned into a span only when there is something to say about it.
 */
export interface Spot {
  readonly file: SourceFile;
  readonly path: ValuePath;
  /** `key`: the last key itself; `value`: what stands behind it. */
  readonly part: 'key' | 'value';
}

export type Place = Span | Spot;

/** The spot of a whole file. */
export function spotOf(file: SourceFile): Spot {
  return Object.freeze({ file, path: Object.freeze([]), part: 'value' });
}

/** The spot of a value inside the value at `base`. */
export function spotIn(base: Spot, ...path: ValuePath): Spot {
  return Object.freeze({
    file: base.file,
    path: Object.freeze([...base.path, ...path]),
    part: 'value',
  });
}

/** The spot of a key inside the value at `base`. */
export function keyIn(base: Spot, ...path: ValuePath): Spot {
  return { file: base.file, path: [...base.path, ...path], part: 'key' };
}

export function isSpan(place: Place): place is Span {
  return 'start' in place;
}
