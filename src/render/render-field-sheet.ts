import type { FieldSheet } from '../report/field-sheet.ts';
import type { Look } from './look.ts';

/** The forms in which a field sheet can be had. */
export const FIELD_SHEET_FORMATS = ['text', 'markdown', 'html', 'json'] as const;
export type FieldSheetFormat = (typeof FIELD_SHEET_FORMATS)[number];

/** The sheet in one of the forms, ended by one line feed; each form is loaded when asked for. */
export async function renderFieldSheet(
  sheet: FieldSheet,
  format: FieldSheetFormat,
  look: Look,
): Promise<string> {
  switch (format) {
    case 'text':
      return (await import('./field-sheet-text.ts')).renderFieldSheetText(sheet, look);
    case 'markdown':
      return (await import('./field-sheet-markdown.ts')).renderFieldSheetMarkdown(sheet);
    case 'html':
      return (await import('./field-sheet-html.ts')).renderFieldSheetHtml(sheet);
    case 'json':
      return (await import('./field-sheet-json.ts')).renderFieldSheetJson(sheet);
  }
}
