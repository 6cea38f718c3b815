import type { FieldSheet, SheetSite, SheetTree } from '../report/field-sheet.ts';
import type { SheetLine } from '../report/sheet-lines.ts';
import { displayWidth } from '../source/display-width.ts';
import { visible } from '../source/visible.ts';
import { afterwards, DEFECT_BOXES, NO_TREES, WHO } from './field-sheet-boxes.ts';
import { type Look, proseWidth } from './look.ts';
import { type Style, styleFor } from './style.ts';
import { hang, wrapWords } from './text-lines.ts';

type Lines = readonly string[];

/** A field sheet for a plain printer: a block a tree, boxes of square brackets. */
export function renderFieldSheetText(sheet: FieldSheet, look: Look): string {
  const style = styleFor(look.colorLevel);
  const width = proseWidth(look);
  const wrapped = (text: string): Lines => wrapWords(visible(text), width);
  const bullets = (lines: Lines): Lines =>
    lines.flatMap((line) => hang('- ', visible(line), width));
  const who = WHO.map((word) => `${word} ${'_'.repeat(Math.max(8, Math.floor(width / 2) - 10))}`);
  const blocks: Lines[] = [
    [...wrapped(`${sheet.title}, ${sheet.ledgerTitle}`).map(style.strong)],
    fill(who, width, '   '),
    bullets(sheet.rules),
    bullets(sheet.cautions).map(style.caution),
    ...(sheet.sites.length === 0 ? [wrapped(NO_TREES)] : []),
    ...sheet.sites.flatMap((site) => siteBlocks(sheet, site, width, style)),
    wrapped(afterwards(sheet)),
  ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function siteBlocks(
  sheet: FieldSheet,
  { name, trees }: SheetSite,
  width: number,
  style: Style,
): Lines[] {
  const title = visible(name);
  const rule = '-'.repeat(Math.min(width, displayWidth(title)));
  const indent = 2 + Math.max(...trees.map(({ id }) => displayWidth(visible(id))));
  return [
    [...wrapWords(title, width).map(style.strong), style.quiet(rule)],
    ...trees.map((tree) => treeLines(sheet, tree, { width, style, indent })),
  ];
}

interface Setting {
  readonly width: number;
  readonly style: Style;
  readonly indent: number;
}

function treeLines(sheet: FieldSheet, tree: SheetTree, { width, style, indent }: Setting): Lines {
  const lead = visible(tree.id).padEnd(indent);
  const blank = ' '.repeat(indent);
  const room = width - indent;
  const named = [tree.cultivar, ...(tree.stands === undefined ? [] : [tree.stands])].join(', ');
  const below = (text: string) => wrapWords(visible(text), room).map((line) => `${blank}${line}`);
  const boxes = (cells: Lines) => fill(cells, room, '  ').map((line) => `${blank}${line}`);
  const girth = tree.girthDue === undefined ? [] : [box(`girth ${tree.girthDue}`, 8)];
  return [
    ...hang(lead, visible(named), width).map(style.strong),
    ...(tree.wait === undefined ? [] : below(tree.wait.toUpperCase()).map(style.caution)),
    ...(tree.known.length === 0 ? [] : below(tree.known.join(' '))),
    ...tree.lines.flatMap((line) => [
      ...(line.due.length === 0 ? [] : below(`${line.crop}: ${line.due.join(' ')}`)),
      ...boxes([...countBoxes(line), ...(tree.wait === undefined ? [box('picked', 5)] : [])]),
      ...(tree.wait === undefined ? [`${blank}${weightBox(sheet.weightUnit, room)}`] : []),
      ...(tree.wait === undefined ? boxes(DEFECT_BOXES.map((one) => box(one, 3))) : []),
    ]),
    ...boxes(girth),
  ];
}

function countBoxes({ crop }: SheetLine): Lines {
  const which = crop === '' ? [box('crop', 7)] : [];
  return [...which, box('hanging', 5), box('branches', 5)];
}

function weightBox(unit: string, room: number): string {
  return box(`${unit} each`, Math.min(60, room - displayWidth(`${unit} each []`)));
}

function box(label: string, size: number): string {
  return `${label} [${' '.repeat(Math.max(3, size))}]`;
}

/** Cells side by side, as many as a line takes. */
function fill(cells: Lines, width: number, gap: string): Lines {
  const lines: string[] = [];
  let line = '';
  for (const cell of cells) {
    const longer = line === '' ? cell : `${line}${gap}${cell}`;
    if (line !== '' && displayWidth(longer) > width) {
      lines.push(line);
      line = cell;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}
