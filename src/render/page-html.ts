import { type Line, type Page, type Section, tableAsReport } from '../report/page.ts';
import { HTML_STYLE } from './html-style.ts';
import { htmlNotes, htmlTable } from './html-table.ts';
import { escaped, POLICY } from './html-text.ts';

/** The page as HTML of its own; see `renderHtml`. */
export function renderPageHtml(page: Page): string {
  const title = escaped(page.title);
  const ledger = escaped(page.ledgerTitle);
  const sections = page.sections.map((section) => {
    const heading = `<h2>${escaped(section.heading)}</h2>`;
    return `<section>\n${heading}\n${bodyOf(page, section)}</section>\n`;
  });
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<title>${title}${ledger === '' ? '' : ` | ${ledger}`}</title>
<style>
${HTML_STYLE}${PAGE_STYLE}</style>
</head>
<body>
<main>
${ledger === '' ? '' : `<p class="ledger">${ledger}</p>\n`}<h1>${title}</h1>
${sections.join('')}${htmlNotes(page.notes)}</main>
</body>
</html>
`;
}

const PAGE_STYLE = `h2 {
  margin: 1.6rem 0 0.5rem;
  font-size: 1.1rem;
}
dl {
  display: grid;
  grid-template-columns: max-content 1fr;
  gap: 0.25rem 1rem;
  max-width: 60rem;
  margin: 0;
}
dt {
  color: var(--soft);
}
dd {
  margin: 0;
}
@media (max-width: 32rem) {
  dl {
    grid-template-columns: 1fr;
  }
}
`;

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
