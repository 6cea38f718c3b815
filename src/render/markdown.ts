import type { Note, Report } from '../report/table.ts';
import { displayWidth } from '../source/display-width.ts';
import { visible } from '../source/visible.ts';
import { NOTHING, type PeopleColumn, peopleColumns } from './people-columns.ts';

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

/** The pipe table alone. */
export function markdownTable(report: Report): string {
  const columns = peopleColumns(report, { joiner: '–', padEnds: false });
  if (report.rows.length === 0 || columns.length === 0) return report.ifEmpty ?? NOTHING;
  const rule = columns.map(ruleOf);
  const rows = report.rows.map((_, index) => columns.map((column) => column.cells[index] ?? ''));
  return [
    markdownRow(columns.map((column) => literal(column.header))),
    markdownRow(rule),
    ...rows.map((cells) => markdownRow(cells.map(literal))),
  ].join('\n');
}

/** Wider text than this may be wrapped. */
const WIDEST = 40;

/**
 * As many dashes as the widest cell has letters: where a table is wider than a line, converters to
 * paper (pandoc, pipe_tables) share the width among the columns by them.
 */
function ruleOf({ header, align, cells }: PeopleColumn): string {
  const wide = Math.max(3, ...[header, ...cells].map(displayWidth));
  const dashes = '-'.repeat(Math.min(WIDEST, wide));
  return align === 'right' ? `${dashes}:` : dashes;
}

export function markdownRow(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}

/** A note as a line of a list. */
export function noteLine(note: Note): string {
  return note.kind === 'caution'
    ? `- **Caution:** ${literal(note.text)}`
    : `- ${opening(note.text)}`;
}

/** Literal text at the start of a block, where it must not open a list. */
export function opening(text: string): string {
  return literal(text)
    .replace(/^([-+])/, '\\$1')
    .replace(/^(\d+)([.)])/, '$1\\$2');
}

/**
 * Text in which every mark of Markdown stands for itself, and the braces of templates, which site
 * generators may run over a page before it is read as Markdown.
 */
export function literal(text: string): string {
  return visible(text)
    .replace(/[\\`*_[\]#|~$]/g, '\\$&')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('{', '&#123;')
    .replaceAll('}', '&#125;')
    .replace(/\s+/gu, ' ')
    .trim();
}
