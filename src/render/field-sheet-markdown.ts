import type { FieldSheet, SheetSite, SheetTree } from '../report/field-sheet.ts';
import type { SheetLine } from '../report/sheet-lines.ts';
import { afterwards, DEFECT_BOXES, NO_TREES, WHO } from './field-sheet-boxes.ts';
import { literal } from './markdown-parts.ts';

/** A field sheet as Markdown: a table a site, blank cells to fill in. */
export function renderFieldSheetMarkdown(sheet: FieldSheet): string {
  const list = (lines: readonly string[]) => lines.map((line) => `- ${literal(line)}`).join('\n');
  const blocks = [
    `## ${literal(sheet.title)}`,
    literal(sheet.ledgerTitle),
    WHO.map((word) => `${word}: \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_`).join(' '),
    list(sheet.rules),
    sheet.cautions.map((line) => `- **Caution:** ${literal(line)}`).join('\n'),
    ...(sheet.sites.length === 0 ? [NO_TREES] : []),
    ...sheet.sites.flatMap((site) => [`### ${literal(site.name)}`, tableOf(sheet, site)]),
    literal(afterwards(sheet)),
  ];
  return `${blocks.join('\n\n')}\n`;
}

function tableOf(sheet: FieldSheet, { trees }: SheetSite): string {
  const columns = [
    ...['Tree', 'Cultivar', 'Known and due', 'Crop', 'Hanging', 'Branches', 'Picked'],
    `Weights (${sheet.weightUnit})`,
    ...DEFECT_BOXES.map((one) => `${one.charAt(0).toUpperCase()}${one.slice(1)}`),
  ];
  return [
    row(columns),
    row(columns.map(() => '---')),
    ...trees.flatMap((tree) => tree.lines.map((line, index) => row(cells(tree, line, index)))),
  ].join('\n');
}

function cells(tree: SheetTree, line: SheetLine, index: number): readonly string[] {
  const isFirst = index === 0;
  const stands = tree.stands === undefined ? '' : `, ${tree.stands}`;
  const wait = tree.wait === undefined ? [] : [`**${literal(tree.wait)}**`];
  const girth = tree.girthDue === undefined ? [] : [`Girth now (${tree.girthDue}): \\_\\_\\_\\_`];
  const said = [
    ...(isFirst ? [...wait, ...tree.known.map(literal), ...girth] : []),
    ...line.due.map(literal),
  ];
  const barred = tree.wait === undefined ? '' : 'wait';
  return [
    isFirst ? literal(tree.id) : '',
    isFirst ? literal(`${tree.cultivar}${stands}`) : '',
    said.join(' '),
    literal(line.crop),
    ...['', ''],
    ...[barred, barred, ...DEFECT_BOXES.map(() => barred)],
  ];
}

function row(texts: readonly string[]): string {
  return `| ${texts.join(' | ')} |`;
}
