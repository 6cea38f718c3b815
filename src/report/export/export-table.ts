import type { IsoDate } from '../../model/dates.ts';
import type { Ledger } from '../../model/ledger.ts';
import type { Cell, Row } from '../table.ts';

/** What the values of a column are: `date` is YYYY-MM-DD, `integer` and `number` bare figures. */
export type ExportKind = 'text' | 'date' | 'integer' | 'number' | 'boolean';

/** A column of an exported table; keys and kinds are stable. */
export interface ExportColumn {
  readonly key: string;
  readonly kind: ExportKind;
  readonly unit?: string;
  readonly about: string;
  /** The column of another table that holds every value of this one. */
  readonly refersTo?: string;
  /** Whether a cell holds several numbers, with spaces between. */
  readonly isNumbers?: true;
}

/** A table that other programs load: one row an observation. */
export interface ExportTable {
  readonly name: string;
  readonly about: string;
  readonly columns: readonly ExportColumn[];
  /** @param today the day up to which a season may be under way; undefined takes all for over */
  rows(ledger: Ledger, today?: IsoDate): readonly Row[];
}

/** A column with where its value comes from. */
export interface ExportField<Thing> extends ExportColumn {
  of(thing: Thing, ledger: Ledger): Cell | undefined;
}

export function defineTable<Thing>(
  name: string,
  about: string,
  things: (ledger: Ledger, today: IsoDate | undefined) => Iterable<Thing>,
  fields: readonly ExportField<Thing>[],
): ExportTable {
  return {
    name,
    about,
    columns: fields.map(({ of, ...column }) => column),
    rows: (ledger, today) =>
      [...things(ledger, today)].map((thing) =>
        Object.fromEntries(fields.map((field) => [field.key, field.of(thing, ledger) ?? null])),
      ),
  };
}

/** A field without its source. */
type Sketch = Omit<ExportColumn, 'kind'>;

/** The key of a column and what it holds, with its unit or what it refers to where it has one. */
export function column(
  key: string,
  about: string,
  more: Pick<ExportColumn, 'unit' | 'refersTo' | 'isNumbers'> = {},
): Sketch {
  return { key, about, ...more };
}

type Source<Thing, Value> = (thing: Thing, ledger: Ledger) => Value | undefined;

export function textField<Thing>(sketch: Sketch, of: Source<Thing, string>): ExportField<Thing> {
  return { ...sketch, kind: 'text', of };
}

export function dayField<Thing>(sketch: Sketch, of: Source<Thing, string>): ExportField<Thing> {
  return { ...sketch, kind: 'date', of };
}

export function wholeField<Thing>(sketch: Sketch, of: Source<Thing, number>): ExportField<Thing> {
  return { ...sketch, kind: 'integer', of };
}

export function figureField<Thing>(sketch: Sketch, of: Source<Thing, number>): ExportField<Thing> {
  return { ...sketch, kind: 'number', of };
}

export function yesOrNoField<Thing>(
  sketch: Sketch,
  of: Source<Thing, boolean>,
): ExportField<Thing> {
  return { ...sketch, kind: 'boolean', of };
}
