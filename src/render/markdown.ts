import type { Report } from '../report/table.ts';
import { literal, markdownTable, noteLine } from './markdown-parts.ts';

/**
 * The report as Markdown with a pipe table (GitHub Flavored Markdown 0.29, 4.10). Cells are not
 * padded, so that a changed figure changes one line. Names come out letter by letter, whatever
 * marks they hold.
 */
export function renderMarkdown(report: Report): string {
  const blocks = [`## ${literal(report.title)}`, markdownTable(report)];
  if (report.notes.length > 0) blocks.push(report.notes.map(noteLine).join('\n'));
  return `${blocks.join('\n\n')}\n`;
}
