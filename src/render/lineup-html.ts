import type { LineupSheet, SheetOrder } from '../report/lineup-sheet.ts';
import { htmlPage, listOf } from './html-page.ts';
import { htmlNotes } from './html-table.ts';
import { escaped } from './html-text.ts';
import {
  BEST_FIRST,
  howToTaste,
  LEFT_OUT_HEADING,
  leftOutLines,
  pasteHeading,
  REASONS_HEADING,
  reasonLines,
  SERVER_HEADING,
  serverColumns,
  sheetColumns,
  sheetHeading,
} from './lineup-pages.ts';
import { lineupYaml } from './lineup-yaml.ts';
import type { PeopleColumn } from './people-columns.ts';

/**
 * The sheets of a sitting to print on A4: the key for whoever serves on a page of its own, then a
 * page with boxes for each taster.
 */
export function renderLineupHtml(sheet: LineupSheet): string {
  const title = `${sheet.title}, ${sheet.ledgerTitle}`;
  return htmlPage({
    title,
    style: 'portrait',
    body: `<section>
<h1>${escaped(title)}</h1>
${serverPage(sheet)}</section>
${sheet.orders.map((order) => tasterPage(sheet, order)).join('')}`,
  });
}

function serverPage(sheet: LineupSheet): string {
  const leftOut = headed(LEFT_OUT_HEADING, leftOutLines(sheet));
  if (sheet.samples.length === 0) return `${leftOut}${htmlNotes(sheet.notes)}`;
  return `<h2>${escaped(SERVER_HEADING)}</h2>
${tableOf(serverColumns(sheet), 'known')}${headed(REASONS_HEADING, reasonLines(sheet))}${leftOut}${htmlNotes(sheet.notes)}<h3>${escaped(pasteHeading(sheet))}</h3>
<pre>${lineupYaml(sheet).split('\n').map(escaped).join('\n')}</pre>
`;
}

function headed(heading: string, lines: readonly string[]): string {
  return lines.length === 0 ? '' : `<h3>${escaped(heading)}</h3>\n${listOf(lines, 'lines')}`;
}

function tasterPage(sheet: LineupSheet, order: SheetOrder): string {
  const blanks = order.codes.map(() => '<span class="blank"></span>').join(' ');
  return `<section>
<h2>${escaped(sheetHeading(sheet, order))}</h2>
<p>${escaped(howToTaste(sheet))}</p>
${tableOf(sheetColumns(sheet, order, ''), 'scores', WIDTHS)}<p class="order">${escaped(BEST_FIRST)} ${blanks}</p>
</section>
`;
}

/** Of the first column and the last; those between share the rest. */
const WIDTHS = ['code', 'remarks'] as const;

/** @param widths classes of the first and the last column */
function tableOf(
  columns: readonly PeopleColumn[],
  name: string,
  widths?: readonly [string, string],
): string {
  const last = columns.length - 1;
  const groups = columns.map((_, at) =>
    at === 0 || at === last ? `<col class="${widths?.[at === 0 ? 0 : 1]}">` : '<col>',
  );
  const head = columns.map(({ header }) => `<th scope="col">${escaped(header)}</th>`);
  const rows = (columns[0]?.cells ?? []).map((_, row) => {
    const cells = columns.map(({ cells, align }, at) => {
      const text = escaped(cells[row] ?? '');
      if (at === 0) return `<th scope="row">${text}</th>`;
      return align === 'right' ? `<td class="number">${text}</td>` : `<td>${text}</td>`;
    });
    return `<tr>\n${cells.join('\n')}\n</tr>\n`;
  });
  return `<table class="${name}">
${widths === undefined ? '' : `<colgroup>\n${groups.join('\n')}\n</colgroup>\n`}<thead>
<tr>
${head.join('\n')}
</tr>
</thead>
<tbody>
${rows.join('')}</tbody>
</table>
`;
}
