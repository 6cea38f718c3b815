import type { LineupSheet } from '../report/lineup-sheet.ts';
import type { Look } from './look.ts';

/** The forms in which the sheets of a tasting can be had. */
export const SHEET_FORMATS = ['text', 'markdown', 'html', 'json'] as const;
export type SheetFormat = (typeof SHEET_FORMATS)[number];

/** The sheets in one of the forms, ended by one line feed; each form is loaded when asked for. */
export async function renderLineup(
  sheet: LineupSheet,
  format: SheetFormat,
  look: Look,
): Promise<string> {
  switch (format) {
    case 'text':
      return (await import('./lineup-text.ts')).renderLineupText(sheet, look);
    case 'markdown':
      return (await import('./lineup-markdown.ts')).renderLineupMarkdown(sheet);
    case 'html':
      return (await import('./lineup-html.ts')).renderLineupHtml(sheet);
    case 'json':
      return (await import('./lineup-json.ts')).renderLineupJson(sheet);
  }
}
