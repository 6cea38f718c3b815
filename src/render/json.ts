import type { Cell, Column, Report, Row } from '../report/table.ts';

/**
 * One object: `report`, `ledger`, `selection`, `columns`, `rows`, `notes`. Numbers have all their
 * digits, shares run from 0 to 1 and so have no unit, a figure that cannot be had is null.
 */
export function renderJson(report: Report): string {
  return jsonText({
    report: report.report,
    ledger: { title: report.ledgerTitle },
    selection: report.selection,
    ...tableJson(report),
    notes: report.notes.map(({ kind, text }) => ({ kind, text })),
  });
}

/** Columns and rows alone. */
export function tableJson({ columns, rows }: Pick<Report, 'columns' | 'rows'>) {
  return { columns: columns.map(outline), rows: rows.map((row) => recordOf(row, columns)) };
}

function outline(column: Column): { key: string; label: string; unit: string | null } {
  const unit = column.kind === 'share' ? null : (column.unit ?? null);
  return { key: column.key, label: column.label, unit };
}

function recordOf(row: Row, columns: readonly Column[]): Record<string, Cell> {
  return Object.fromEntries(columns.map(({ key }) => [key, row[key] ?? null]));
}

/**
 * JSON with an indent of two, ended by a line feed. Characters that could steer a terminal are
 * written as escapes, which changes no value. Throws a `RangeError` for NaN and Infinity, which
 * JSON would turn into null without a word.
 */
export function jsonText(value: unknown): string {
  return written(value, 2);
}

/** A record a line (JSON Lines), by the same rules. */
export function jsonLines(values: readonly unknown[]): string {
  return values.map((value) => written(value, 0)).join('');
}

function written(value: unknown, indent: number): string {
  const text = JSON.stringify(value, finiteOnly, indent);
  return `${text.replace(STEERING, escaped)}\n`;
}

function finiteOnly(key: string, value: unknown): unknown {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new RangeError(`${key} is ${value}`);
  }
  return Object.is(value, -0) ? 0 : value;
}

function escaped(character: string): string {
  return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
}

/** C1 controls and bidirectional controls; the C0 controls are escaped by JSON itself. */
const STEERING = /[\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]/g;
