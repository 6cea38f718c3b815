import type { Ledger } from '../../model/ledger.ts';
import { cropWordsNote } from '../common-notes.ts';
import type { Block } from '../document.ts';
import { markedRow } from '../names.ts';
import type { Column, Note, NoteKind, Report, Row } from '../table.ts';

/** What a post changes of a report before it shows its table. */
export interface Shown {
  readonly caption: string;
  readonly rows: readonly Row[];
  /** Keys of the columns to show, in this order; an upper end goes with its lower one. */
  readonly keys?: readonly string[];
  readonly notes?: readonly Note[];
}

/** A table of a post: names in doubt are marked, and columns without a figure are left out. */
export function tableBlock(ledger: Ledger, report: Report, shown: Shown): Block {
  const columns = shown.keys === undefined ? report.columns : chosen(report.columns, shown.keys);
  const rows = shown.rows.map((row) => markedRow(ledger, row));
  return {
    kind: 'table',
    caption: shown.caption,
    table: {
      columns: columns.filter(({ key }) => rows.some((row) => isFilled(row, key))),
      rows,
    },
    ifEmpty: 'Nothing to show.',
    notes: shown.notes ?? [],
  };
}

function isFilled(row: Row, key: string): boolean {
  const value = row[key];
  return value !== null && value !== undefined && value !== '';
}

function chosen(columns: readonly Column[], keys: readonly string[]): readonly Column[] {
  const uppers = columns.filter(({ key }) => keys.includes(key)).map(({ upTo }) => upTo);
  const own = keys.filter((key) => !uppers.includes(key));
  return own.flatMap((key) => {
    const column = columns.find((one) => one.key === key);
    if (column === undefined) return [];
    const upper = columns.find((one) => one.key === column.upTo);
    return upper === undefined ? [column] : [column, upper];
  });
}

/**
 * What notes of one kind say to a reader: not what the ledger calls its crops, which headings say, and
 * not what to ask a command line for.
 */
export function textsOf(ledger: Ledger, report: Report, kind: NoteKind): readonly string[] {
  const crops = cropWordsNote(ledger)?.text;
  return report.notes
    .filter((one) => one.kind === kind && one.text !== crops)
    .map(({ text }) => withoutOptions(text))
    .filter((text) => text !== '');
}

function withoutOptions(text: string): string {
  return text
    .replace(/; --[a-z]+ [^.;]*/g, '')
    .split(/(?<=\.) /)
    .filter((sentence) => !/(^|[ (])--[a-z]/.test(sentence))
    .join(' ');
}

/** Rows of one crop. */
export function rowsOf(report: Report, crop: string): readonly Row[] {
  return report.rows.filter((row) => row['crop'] === crop);
}
