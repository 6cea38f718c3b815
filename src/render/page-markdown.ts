import { type Line, type Page, type Section, tableAsReport } from '../report/page.ts';
import { literal, markdownTable, noteLine } from './markdown-parts.ts';

/** The page as Markdown: a heading a section, lists, and pipe tables. */
export function renderPageMarkdown(page: Page): string {
  const blocks = [
    `## ${literal(page.title)}`,
    ...page.sections.flatMap((section) => [
      `### ${literal(section.heading)}`,
      sectionText(page, section),
    ]),
    // Without a heading between them, two lists would run into one.
    ...(page.notes.length === 0
      ? []
      : ['### About these figures', page.notes.map(noteLine).join('\n')]),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

function sectionText(page: Page, section: Section): string {
  if (section.kind === 'lines') return section.lines.map(listLine).join('\n');
  if (section.table.rows.length === 0) return literal(section.ifEmpty);
  return markdownTable(tableAsReport(page, section));
}

function listLine({ lead, text }: Line): string {
  if (lead !== '') return `- **${literal(lead)}:** ${literal(text)}`;
  return noteLine({ kind: 'evidence', text });
}
