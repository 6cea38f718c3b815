import type { Note, Report } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { peopleColumns } from './people-columns.ts';
import { NOTHING } from './words.ts';

/**
 * The report as Markdown with a pipe table (GitHub Flavored Markdown 0.29, 4.10). Cells are not
 * padded, so that a changed figure changes one line. Names come out letter by letter, whatever
 * marks they hold.
 */
export function renderMarkdown(report: Report): string {
  const blocks = [`## ${literal(report.title)}`, tableOf(report)];
  if (report.notes.length > 0) blocks.push(report.notes.map(noteLine).join('\n'));
  return `${blocks.join('\n\n')}\n`;
}

function tableOf(report: Report): string {
  const columns = peopleColumns(report, { joiner: '–', padEnds: false });
  if (report.rows.length === 0 || columns.length === 0) return NOTHING;
  const rule = columns.map((column) => (column.align === 'right' ? '---:' : '---'));
  const rows = report.rows.map((_, index) => columns.map((column) => column.cells[index] ?? ''));
  return [
    line(columns.map((column) => literal(column.header))),
    line(rule),
    ...rows.map((cells) => line(cells.map(literal))),
  ].join('\n');
}

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

function noteLine(note: Note): string {
  const text = literal(note.text);
  if (note.kind === 'caution') return `- **Caution:** ${text}`;
  // A note must not open a list inside the list.
  return `- ${text.replace(/^([-+])/, '\\$1').replace(/^(\d+)([.)])/, '$1\\$2')}`;
}

/** Text in which every mark of Markdown stands for itself. */
export function literal(text: string): string {
  return visible(text)
    .replace(/[\\`*_[\]#|~$]/g, '\\$&')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replace(/\s+/gu, ' ')
    .trim();
}
