import type { Cell, Column, Report, Row } from '../report/table.ts';
import { jsonText } from './json-text.ts';

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
