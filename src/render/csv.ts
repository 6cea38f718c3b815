import type { Cell, Report, Row } from '../report/table.ts';
import { visible } from '../source/visible.ts';

/**
 * The table in the form of RFC 4180: a header of column keys, a record a row, every digit of every
 * number, nothing where there is no figure, `true` and `false`.
 *
 * Records end in a line feed, which readers take as readily as the CRLF of the RFC, and which git
 * compares line by line without further settings; line breaks inside a text become one too. Other
 * control characters are written out, since the table may be shown on a terminal.
 */
export function renderCsv(report: Report, decimal: DecimalSign = 'point'): string {
  return csvText(report.columns, report.rows, decimal);
}

/**
 * The sign in numbers. A spreadsheet that is set to the comma takes 61.375 for sixty-one thousand;
 * it wants 61,375, and semicolons between the columns.
 */
export type DecimalSign = 'point' | 'comma';

/** The same for rows that are not a report. */
export function csvText(
  columns: readonly { readonly key: string; readonly isNumbers?: true }[],
  rows: readonly Row[],
  decimal: DecimalSign = 'point',
  parting: ',' | ';' | '\t' = decimal === 'comma' ? ';' : ',',
): string {
  const records = [
    columns.map((column) => field(column.key)),
    ...rows.map((row) =>
      columns.map(({ key, isNumbers }) => {
        const cell = row[key];
        const signed = isNumbers === true || typeof cell === 'number';
        const text = fieldOf(cell);
        return decimal === 'comma' && signed ? text.replaceAll('.', ',') : text;
      }),
    ),
  ];
  // A record of one empty field is an empty line, which readers skip.
  return records.map((fields) => `${fields.join(parting) || '""'}\n`).join('');
}

function fieldOf(cell: Cell | undefined): string {
  if (cell === null || cell === undefined) return '';
  if (typeof cell === 'string') return field(harmless(cell));
  if (typeof cell === 'number' && !Number.isFinite(cell)) throw new RangeError(`a cell is ${cell}`);
  return String(Object.is(cell, -0) ? 0 : cell);
}

function field(text: string): string {
  const safe = text.replace(/\r\n?/g, '\n').replace(/[^\n\t]+/g, visible);
  return /[",;\n\t]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * Text that a spreadsheet would run as a formula gets an apostrophe in front (as the Open Web
 * Application Security Project advises for CSV injection). Text that has such an apostrophe of its
 * own gets a second one, so that taking one away always gives the text back.
 */
function harmless(text: string): string {
  return FORMULA.test(text) && !PLAIN_NUMBER.test(text) ? `'${text}` : text;
}

const FORMULA = /^'*[=+\-@\t\r\n＝＋－＠]/;
const PLAIN_NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
