import type { Note, Report } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { HTML_STYLE } from './html-style.ts';
import { type PeopleColumn, peopleColumns } from './people-columns.ts';
import { NOTHING } from './words.ts';

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
${tableOf(report, title)}${notesOf(report.notes)}</main>
</body>
</html>
`;
}

const POLICY = "default-src 'none'; style-src 'unsafe-inline'";

function tableOf(report: Report, title: string): string {
  const columns = peopleColumns(report, { joiner: '–', padEnds: false });
  if (report.rows.length === 0 || columns.length === 0) return `<p>${NOTHING}</p>\n`;
  const named = columns.findIndex((column) => column.align === 'left');
  const head = columns.map(
    (column) => `<th scope="col"${sideOf(column)}>${escaped(column.header)}</th>`,
  );
  const rows = report.rows.map((_, row) => {
    const cells = columns.map((column, index) => cellOf(column, row, index === named));
    return `<tr>\n${cells.join('\n')}\n</tr>\n`;
  });
  return `<div class="wide" role="region" aria-labelledby="caption" tabindex="0">
<table>
<caption id="caption">${title}</caption>
<thead>
<tr>
${head.join('\n')}
</tr>
</thead>
<tbody>
${rows.join('')}</tbody>
</table>
</div>
`;
}

function cellOf(column: PeopleColumn, row: number, isName: boolean): string {
  const text = escaped(column.cells[row] ?? '');
  if (isName) return `<th scope="row"${bodyClass(column)}>${text}</th>`;
  return `<td${bodyClass(column)}>${text}</td>`;
}

function sideOf(column: PeopleColumn): string {
  return column.align === 'right' ? ' class="figure"' : '';
}

/** Names stay in one line; sentences may wrap. */
function bodyClass(column: PeopleColumn): string {
  const isShort = column.cells.every((cell) => cell.length <= SHORT_NAME);
  return column.align === 'left' && isShort ? ' class="short"' : sideOf(column);
}

const SHORT_NAME = 24;

function notesOf(notes: readonly Note[]): string {
  if (notes.length === 0) return '';
  const lines = notes.map((note) =>
    note.kind === 'caution'
      ? `<li class="caution"><strong>Caution:</strong> ${escaped(note.text)}</li>\n`
      : `<li>${escaped(note.text)}</li>\n`,
  );
  return `<ul class="notes">\n${lines.join('')}</ul>\n`;
}

/** Text that is nothing but text, inside elements and inside quoted attributes. */
export function escaped(text: string): string {
  return visible(text).replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);
}
