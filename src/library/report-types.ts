import type { JsonValue } from '../report/document.ts';
import type { Note, Report } from '../report/table.ts';
import type { ReportRow } from './row-types.ts';

/** A table as the commands print it with `--format json`. */
export interface Reported<Row extends ReportRow = ReportRow> extends ReportedTable<Row> {
  /** The command, such as `yield`. */
  readonly report: string;
  readonly ledger: { readonly title: string };
  /** What was asked for; can be given back as options. */
  readonly selection: Report['selection'];
  readonly notes: readonly Note[];
}

export interface ReportedTable<Row extends ReportRow = ReportRow> {
  readonly columns: readonly {
    readonly key: string;
    /** As people read it in a table's head. */
    readonly label: string;
    readonly unit: string | null;
  }[];
  /** A cell for the key of every column; numbers are not rounded, null is a figure not to be had. */
  readonly rows: readonly Row[];
}

/** Several things on one page, as `pomary card` prints them with `--format json`. */
export interface ReportedPage {
  readonly report: string;
  readonly ledger: { readonly title: string };
  readonly title: string;
  readonly selection: Report['selection'];
  /** Tables, and whatever else, by key. */
  readonly sections: Readonly<Record<string, ReportedTable | JsonValue>>;
  readonly notes: readonly Note[];
}
