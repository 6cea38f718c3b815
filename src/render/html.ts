import type { Report } from '../report/table.ts';
import { HTML_STYLE } from './html-style.ts';
import { htmlNotes, htmlTable } from './html-table.ts';
import { escaped, POLICY } from './html-text.ts';

/**
 * The report as a page of its own: no script, nothing fetched from elsewhere, readable by screen
 * readers, on a phone, in the dark and on paper.
 */
export function renderHtml(report: Report): string {
  const title = escaped(report.title);
  const ledger = escaped(report.ledgerTitle);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<title>${title}${ledger === '' ? '' : ` | ${ledger}`}</title>
<style>
${HTML_STYLE}</style>
</head>
<body>
<main>
${ledger === '' ? '' : `<p class="ledger">${ledger}</p>\n`}<h1>${title}</h1>
${htmlTable(report, 'caption')}${htmlNotes(report.notes)}</main>
</body>
</html>
`;
}
