import { BLANK, type FormBlock, type FormBox, type FormRecord } from '../report/document.ts';
import type { Note, Report } from '../report/table.ts';
import { sentence } from '../report/words.ts';
import { escaped } from './html-text.ts';
import { NOTHING, type PeopleColumn, peopleColumns } from './people-columns.ts';

/**
 * The table in a region that scrolls; `id` names its caption within the page.
 *
 * @param isTitled whether the caption is seen, or only read out where a heading says the same
 */
export function htmlTable(report: Report, id: string, isTitled = false): string {
  const columns = peopleColumns(report, { joiner: '–', padEnds: false });
  if (report.rows.length === 0 || columns.length === 0)
    return `<p>${escaped(report.ifEmpty ?? NOTHING)}</p>\n`;
  const named = columns.findIndex((column) => column.align === 'left');
  const head = columns.map(
    (column) => `<th scope="col"${headClass(column)}>${escaped(column.header)}</th>`,
  );
  const rows = report.rows.map((_, row) => {
    const cells = columns.map((column, index) => cellOf(column, row, index === named));
    return `<tr>\n${cells.join('\n')}\n</tr>\n`;
  });
  return `<section class="${isBroad(report) ? 'wide broad' : 'wide'}" aria-labelledby="${id}" tabindex="0">
<table>
<caption id="${id}"${isTitled ? '' : ' class="unseen"'}>${escaped(report.title)}</caption>
<thead>
<tr>
${head.join('\n')}
</tr>
</thead>
<tbody>
${rows.join('')}</tbody>
</table>
</section>
`;
}

/** Whether a table has more columns than stand side by side on a sheet of paper held upright. */
export function isBroad(report: Report): boolean {
  return peopleColumns(report, { joiner: '–', padEnds: false }).length > MOST_COLUMNS;
}

const MOST_COLUMNS = 11;

function cellOf(column: PeopleColumn, row: number, isName: boolean): string {
  const text = escaped(column.cells[row] ?? '');
  if (isName) return `<th scope="row"${bodyClass(column)}>${text}</th>`;
  return `<td${bodyClass(column)}>${text}</td>`;
}

/** A long head would stand in a narrow column word under word, and leave a gap over all others. */
function headClass({ align, header }: PeopleColumn): string {
  const classes = [
    ...(align === 'right' ? ['figure'] : []),
    ...(header.length > LONG_HEAD ? ['long'] : []),
  ];
  return classes.length === 0 ? '' : ` class="${classes.join(' ')}"`;
}

const LONG_HEAD = 18;

function sideOf(column: PeopleColumn): string {
  return column.align === 'right' ? ' class="figure"' : '';
}

/** Words stay in one line, and names where there is room; sentences may wrap. */
function bodyClass(column: PeopleColumn): string {
  if (column.align !== 'left') return sideOf(column);
  const longest = Math.max(...column.cells.map((cell) => cell.length));
  if (longest > SHORT_NAME) return '';
  return longest > ONE_WORD ? ' class="short"' : ' class="word"';
}

const SHORT_NAME = 24;
const ONE_WORD = 8;

/** A table to print, and to fill in where it has places to write in: those are boxes. */
export function paperTable(report: Report): string {
  const columns = peopleColumns(report, { joiner: '–', padEnds: false });
  const isForm = columns.some(({ cells }) => cells.some(isBlank));
  const last = columns.length - 1;
  const widths = columns.map((_, at) =>
    at === 0 ? '<col class="code">' : at === last ? '<col class="remarks">' : '<col>',
  );
  const head = columns.map(({ header }) => `<th scope="col">${escaped(header)}</th>`);
  const rows = report.rows.map((_, row) => {
    const cells = columns.map(({ header, cells, align }, at) => {
      const cell = cells[row] ?? '';
      const text = isBlank(cell) ? '' : escaped(cell);
      if (at === 0) return `<th scope="row">${text}</th>`;
      // On a telephone a cell that tells something is headed by itself.
      const head = isForm ? '' : ` data-head="${escaped(header)}"`;
      const side = align === 'right' ? ' class="number"' : '';
      return `<td${side}${head}>${text}</td>`;
    });
    return `<tr>\n${cells.join('\n')}\n</tr>\n`;
  });
  return `<table class="${isForm ? 'scores' : 'known'}">
${isForm ? `<colgroup>\n${widths.join('\n')}\n</colgroup>\n` : ''}<thead>
<tr>
${head.join('\n')}
</tr>
</thead>
<tbody>
${rows.join('')}</tbody>
</table>
`;
}

function isBlank(cell: string): boolean {
  return cell !== '' && cell.replaceAll(BLANK, '') === '';
}

/** A form: a row a line, in a body a record; its head comes again on every sheet of paper. */
export function formTable({ caption, record, line, boxes, records }: FormBlock): string {
  const groups = [...new Set(boxes.map(({ group }) => group))].map((group) => {
    const { length } = boxes.filter((box) => box.group === group);
    return `<th scope="colgroup" colspan="${length}">${escaped(group)}</th>`;
  });
  const widths = ['record', 'due', ...boxes.map(({ room }) => room)];
  const heads = [record, `${line} and what is due`, ...boxes.map(({ inGroup }) => inGroup)];
  return `<table class="form">
<colgroup>
${widths.map((name) => `<col class="${name}">`).join('\n')}
</colgroup>
<thead>
<tr>
<th class="caption" scope="col" colspan="2">${escaped(caption)}</th>
${groups.join('\n')}
</tr>
<tr>
${heads.map((head) => `<th scope="col">${escaped(head)}</th>`).join('\n')}
</tr>
</thead>
${records.map((one) => recordBody(one, line, boxes)).join('')}</table>
`;
}

function recordBody(record: FormRecord, line: string, boxes: readonly FormBox[]): string {
  const { barred, lines } = record;
  const open = boxes.filter(({ isBarred }) => barred === undefined || !isBarred);
  const rows = lines.map(({ label, due }, at) => {
    const named = label === '' ? `${escaped(line)} ${PLACE}` : `<b>${escaped(label)}</b>`;
    return `<tr>
${at === 0 ? recordHead(record) : ''}<td class="due">${named}${paragraphs(due).join('')}</td>
${'<td></td>\n'.repeat(open.length)}${
  at > 0 || barred === undefined
    ? ''
    : // In the place of all boxes that are taken away.
      `<td class="wait" colspan="${boxes.length - open.length}" rowspan="${lines.length}">${escaped(barred)}</td>\n`
}</tr>
`;
  });
  return `<tbody>\n${rows.join('')}</tbody>\n`;
}

const PLACE = '<span class="blank"></span>';

function recordHead({ id, name, aside, known, own, lines }: FormRecord): string {
  const said = [
    ...paragraphs([...(aside === undefined ? [] : [aside]), ...known]),
    ...(own === undefined
      ? []
      : [`<p class="own">${escaped(sentence(own.label))} now ${PLACE} ${escaped(own.unit)}</p>`]),
  ];
  return `<th scope="rowgroup" rowspan="${lines.length}"><b>${escaped(id)}</b> ${escaped(name)}
${said.map((one) => `${one}\n`).join('')}</th>
`;
}

function paragraphs(texts: readonly string[]): readonly string[] {
  return texts.map((text) => `<p>${escaped(text)}</p>`);
}

/** Notes below a table. */
export function htmlNotes(notes: readonly Note[]): string {
  if (notes.length === 0) return '';
  const lines = notes.map((note) =>
    note.kind === 'caution'
      ? `<li class="caution"><strong>Caution:</strong> ${escaped(note.text)}</li>\n`
      : `<li>${escaped(note.text)}</li>\n`,
  );
  return `<ul class="notes">\n${lines.join('')}</ul>\n`;
}
