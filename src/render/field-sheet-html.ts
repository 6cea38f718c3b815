import type { FieldSheet, SheetSite, SheetTree } from '../report/field-sheet.ts';
import type { SheetLine } from '../report/sheet-lines.ts';
import { afterwards, DEFECT_BOXES, NO_TREES, WHO } from './field-sheet-boxes.ts';
import { htmlPage, listOf } from './html-page.ts';
import { escaped } from './html-text.ts';

/**
 * A field sheet as a page to print on A4 across: black on white, boxes for wet hands, each site on
 * sheets of its own, the head of a table again on every sheet.
 */
export function renderFieldSheetHtml(sheet: FieldSheet): string {
  const title = `${sheet.title}, ${sheet.ledgerTitle}`;
  const sites =
    sheet.sites.length === 0
      ? `<p>${NO_TREES}</p>\n`
      : sheet.sites.map((site) => siteOf(sheet, site)).join('');
  return htmlPage({
    title,
    style: 'landscape',
    body: `<h1>${escaped(title)}</h1>
<p class="who">${WHO.map((word) => `${word} <span class="blank"></span>`).join(' ')}</p>
<div class="told">
${listOf(sheet.rules, 'rules')}${listOf(sheet.cautions, 'cautions')}</div>
${sites}<p>${escaped(afterwards(sheet))}</p>
`,
  });
}

/** Widths of the columns, by class. */
const COLUMNS = [
  ...['tree', 'due', 'some', 'some', 'some', 'weights'],
  ...DEFECT_BOXES.map(() => 'few'),
];

function siteOf(sheet: FieldSheet, { name, trees }: SheetSite): string {
  const picked = ['Fruit', `Weights, ${escaped(sheet.weightUnit)} each`];
  const defects = DEFECT_BOXES.map((one) => `<th scope="col">${one}</th>`);
  return `<section>
<table>
<colgroup>
${COLUMNS.map((name) => `<col class="${name}">`).join('\n')}
</colgroup>
<thead>
<tr>
<th class="site" scope="col" colspan="2">${escaped(name)}, ${sheet.on}</th>
<th scope="colgroup" colspan="2">On the tree</th>
<th scope="colgroup" colspan="2">Picked</th>
<th scope="colgroup" colspan="${DEFECT_BOXES.length}">Of the picked</th>
</tr>
<tr>
<th scope="col">Tree</th>
<th scope="col">Crop and what is due</th>
<th scope="col">Fruit</th>
<th scope="col">Branches</th>
<th scope="col">${picked[0]}</th>
<th scope="col">${picked[1]}</th>
${defects.join('\n')}
</tr>
</thead>
${trees.map(treeOf).join('')}</table>
</section>
`;
}

function treeOf(tree: SheetTree): string {
  const rows = tree.lines.map((line, index) => {
    const head = index === 0 ? headOf(tree) : '';
    const picked = tree.wait === undefined ? PICKED : index === 0 ? waitOf(tree) : '';
    return `<tr>\n${head}${dueOf(line)}<td></td>\n<td></td>\n${picked}</tr>\n`;
  });
  return `<tbody>\n${rows.join('')}</tbody>\n`;
}

function headOf(tree: SheetTree): string {
  const said = [...(tree.stands === undefined ? [] : [tree.stands]), ...tree.known].map(
    (text) => `<p>${escaped(text)}</p>\n`,
  );
  const girth =
    tree.girthDue === undefined
      ? ''
      : `<p class="girth">Girth now <span class="blank"></span> ${escaped(tree.girthDue)}</p>\n`;
  return `<th scope="rowgroup" class="tree" rowspan="${tree.lines.length}"><b>${escaped(tree.id)}</b> ${escaped(tree.cultivar)}
${said.join('')}${girth}</th>
`;
}

function dueOf({ crop, due }: SheetLine): string {
  const named = crop === '' ? 'Crop <span class="blank"></span>' : `<b>${escaped(crop)}</b>`;
  return `<td class="due">${named}${due.map((text) => `<p>${escaped(text)}</p>`).join('')}</td>\n`;
}

const PICKED_BOXES = 2 + DEFECT_BOXES.length;
const PICKED = '<td></td>\n'.repeat(PICKED_BOXES);

/** In the place of all boxes of a pick, over all crops of the tree. */
function waitOf({ wait = '', lines }: SheetTree): string {
  return `<td class="wait" colspan="${PICKED_BOXES}" rowspan="${lines.length}">${escaped(wait)}</td>\n`;
}
