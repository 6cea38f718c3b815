import { type Line, type Page, type Section, tableAsReport } from '../report/page.ts';
import { figuresPage } from './html-page.ts';
import { htmlNotes, htmlTable } from './html-table.ts';
import { escaped } from './html-text.ts';

/** The page as HTML of its own; see `renderHtml`. */
export function renderPageHtml(page: Page): string {
  const sections = page.sections.map((section) => {
    const heading = `<h2>${escaped(section.heading)}</h2>`;
    return `<section>\n${heading}\n${bodyOf(page, section)}</section>\n`;
  });
  return figuresPage(page, `${sections.join('')}${htmlNotes(page.notes)}`);
}

function bodyOf(page: Page, section: Section): string {
  if (section.kind === 'lines') return listOf(section.lines);
  if (section.table.rows.length === 0) return `<p>${escaped(section.ifEmpty)}</p>\n`;
  return htmlTable(tableAsReport(page, section), `caption-${section.key}`);
}

/** Pairs of name and text where every line has a name, else a plain list. */
function listOf(lines: readonly Line[]): string {
  if (lines.every(({ lead }) => lead !== '')) {
    const pairs = lines.map(
      ({ lead, text }) => `<dt>${escaped(lead)}</dt>\n<dd>${escaped(text)}</dd>\n`,
    );
    return `<dl>\n${pairs.join('')}</dl>\n`;
  }
  const items = lines.map(({ lead, text }) => {
    const before = lead === '' ? '' : `<strong>${escaped(lead)}:</strong> `;
    return `<li>${before}${escaped(text)}</li>\n`;
  });
  return `<ul>\n${items.join('')}</ul>\n`;
}
