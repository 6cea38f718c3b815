/**
 * What a report is before anyone decides how to print it. Builders in this folder know nothing of
 * formats; the renderers know nothing of fruit.
 */
export interface Report {
  /** The command that makes it, for example `yield`. */
  readonly report: string;
  /** One line over the table. */
  readonly title: string;
  readonly ledgerTitle: string;
  /** What was asked for, as key and value, in the words of the command line. */
  readonly selection: Readonly<Record<string, string | number | readonly (string | number)[]>>;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** How many of the last rows are shown only where machines read, since a note tells people all that they hold. */
  readonly machineRows?: number;
  /** What people read in place of a table without rows, where it is not that no entry fits. */
  readonly ifEmpty?: string;
  readonly notes: readonly Note[];
  /** Small drawings beside the figures; text tables alone have them. */
  readonly strips?: readonly Strip[];
  /** The same figures set side by side for a terminal, where `rows` would run past its end. */
  readonly screen?: Pick<Report, 'columns' | 'rows'>;
}

/** An interval and a point in it, row by row on one axis: values of columns of numbers or dates. */
export interface Strip {
  /** Key of the column that it stands behind. */
  readonly after: string;
  readonly low: string;
  readonly point: string;
  readonly high: string;
  /** As of a column. */
  readonly drop: number;
}

/** A figure that cannot be had is null; the notes say why. */
export type Cell = string | number | boolean | null;
export type Row = Readonly<Record<string, Cell>>;

/**
 * How the values of a column read:
 * `text`; `date` (YYYY-MM-DD); `integer`; `number` with `digits` decimals; `share` (0 to 1 in
 * machine formats, percent where people read).
 */
export type ColumnKind = 'text' | 'date' | 'integer' | 'number' | 'share';

export interface Column {
  /** Stable camelCase key, as in JSON and CSV. */
  readonly key: string;
  readonly label: string;
  /** What a terminal heads it with where `label` would cost a column its place. */
  readonly short?: string;
  /** For people and machines alike, for example `g` or `g/cm2`; absent for counts and text. */
  readonly unit?: string;
  readonly kind: ColumnKind;
  /** Decimals where people read; 0 if left out. Machine formats give every digit. */
  readonly digits?: number;
  /** Other decimals in rows that hold some text under a key, such as a unit. */
  readonly digitsBy?: {
    readonly key: string;
    readonly digits: Readonly<Record<string, number>>;
  };
  /**
   * Where the width does not suffice, the column with the greatest number goes first;
   * 0 never goes.
   */
  readonly drop: number;
  /** Whether it is not wrapped or cut short while it, or another, can be left out. */
  readonly whole?: boolean;
  /**
   * For the lower end of an interval: key of its upper end. People see both ends in one column
   * headed by `label`, where the upper one stands next to it in `columns`; machines see two.
   */
  readonly upTo?: string;
  /** What people read in place of a value; machines get the value. */
  readonly words?: Readonly<Record<string, string>>;
  /** Shown only where machines read. */
  readonly machineOnly?: boolean;
  /** A screen shows it to those who choose columns: for whoever reckons on from there. */
  readonly onAsking?: boolean;
}

/** `method`: how it was computed; `evidence`: what it rests on; `caution`: what may mislead or harm. */
export const NOTE_KINDS = ['method', 'evidence', 'caution'] as const;
export type NoteKind = (typeof NOTE_KINDS)[number];

export interface Note {
  readonly kind: NoteKind;
  readonly text: string;
  /** What a terminal shows of it unasked: a line about this ledger. Without it the note waits to be asked for. */
  readonly brief?: string;
}
