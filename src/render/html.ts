import type { Report } from '../report/table.ts';
import { figuresPage } from './html-page.ts';
import { htmlNotes, htmlTable } from './html-table.ts';

/** The report as a page readable by screen readers, on a phone, in the dark and on paper. */
export function renderHtml(report: Report): string {
  return figuresPage(report, `${htmlTable(report, 'caption')}${htmlNotes(report.notes)}`);
}
