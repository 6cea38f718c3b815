import type { Report } from '../report/table.ts';
import type { DecimalSign } from './csv.ts';
import type { Look } from './look.ts';
import { type NoteLevel, shownNotes } from './shown-notes.ts';

/** The forms in which a report can be had. */
export const FORMATS = ['text', 'markdown', 'html', 'csv', 'json'] as const;
export type Format = (typeof FORMATS)[number];

export interface Printing {
  /** In CSV; a point if left out. */
  readonly decimal?: DecimalSign | undefined;
  /** If left out, few as text, since a screen is small, and all in the other forms. */
  readonly notes?: NoteLevel | undefined;
  /** Whether somebody chose the columns. */
  readonly chosen?: boolean;
}

/**
 * The report in one of the forms, ended by one line feed. The figures are the same in all; only
 * `text` is fitted to the look. Each form is loaded when it is asked for, so that a script that
 * wants JSON does not wait for the packages that draw tables.
 */
export async function renderReport(
  report: Report,
  format: Format,
  look: Look,
  { decimal = 'point', notes = format === 'text' ? 'few' : 'all', chosen = false }: Printing = {},
): Promise<string> {
  const told = { ...report, notes: shownNotes(report.notes, notes).notes };
  switch (format) {
    case 'text':
      return (await import('./text.ts')).renderText(withoutMachineRows(report), look, {
        notes,
        chosen,
      });
    case 'markdown':
      return (await import('./markdown.ts')).renderMarkdown(withoutMachineRows(told));
    case 'html':
      return (await import('./html-page.ts')).renderHtml(withoutMachineRows(told));
    case 'csv':
      return (await import('./csv.ts')).renderCsv(report, decimal);
    case 'json':
      return (await import('./json.ts')).renderJson(told);
  }
}

/** The report as people see it. */
function withoutMachineRows(report: Report): Report {
  return { ...report, rows: report.rows.slice(0, report.rows.length - (report.machineRows ?? 0)) };
}
