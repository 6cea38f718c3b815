import {
  asReport,
  BLANK,
  type Block,
  type Document,
  type Fact,
  type FormBlock,
  type FormBox,
  type FormRecord,
  type Section,
} from '../report/document.ts';
import { displayWidth } from '../source/display-width.ts';
import { visible } from '../source/visible.ts';
import { proseText } from './format-cell.ts';
import { type Look, proseWidth } from './look.ts';
import { type Style, styleFor } from './style.ts';
import { noteLines, tableLines } from './text.ts';
import { hang, wrapWords } from './text-lines.ts';

type Lines = readonly string[];

/** The document for a terminal or a text file, fitted to `look.width`. */
export function renderDocumentText(document: Document, look: Look): string {
  const style = styleFor(look.colorLevel);
  const blocks = [
    [
      ...wrapWords(visible(document.title), proseWidth(look)).map(style.strong),
      ...(document.published === undefined ? [] : [style.quiet(document.published.date)]),
    ],
    ...document.sections.map((section) => sectionLines(document, section, look, style)),
    document.notes.flatMap((note) => noteLines(note, look, style)),
  ];
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n').trimEnd())
    .join('\n\n')}\n`;
}

/** Heading, then blocks with a line between. */
function sectionLines(document: Document, section: Section, look: Look, style: Style): Lines {
  const { heading, blocks } = section;
  const head =
    heading === '' ? [] : wrapWords(visible(heading), proseWidth(look)).map(style.strong);
  // A form feed, so that nobody gets the page of another on their paper; a form is nobody's.
  const isOwn = section.isNewPage === true && blocks[0]?.kind !== 'form';
  const feed = isOwn ? ['\f', ''] : [];
  return [
    ...feed,
    ...head,
    ...blocks.flatMap((written, at) => {
      const before = blocks[at - 1]?.kind;
      // A sentence below a small heading is set in like what else stands there.
      const block =
        written.kind === 'paragraph' && before === 'subheading'
          ? { kind: 'lines' as const, lines: [written.text] }
          : written;
      const isHeaded = at === 0 || before === 'subheading' || before === 'photo';
      const isFirst = at === 0 && head.length === 0;
      const isEmpty = block.kind === 'table' && block.table.rows.length === 0;
      const isClose = isFirst || (isHeaded && (isEmpty || CLOSE.includes(block.kind)));
      return [...(isClose ? [] : ['']), ...blockLines(document, section, block, look, style)];
    }),
  ];
}

/** What stands right under what heads it. */
const CLOSE: readonly Block['kind'][] = ['facts', 'lines', 'list', 'photo'];

function blockLines(
  document: Document,
  section: Section,
  block: Block,
  look: Look,
  style: Style,
): Lines {
  const width = proseWidth(look);
  const set = (text: string, lead = '  ') => hang(lead, text, width);
  switch (block.kind) {
    case 'subheading':
      return subheadingLines(block, width, style);
    case 'lines':
      return block.lines.flatMap((line) => set(proseText(line)));
    case 'paragraph':
      return wrapWords(proseText(block.text), width);
    case 'list':
      return block.lines.flatMap((line) => set(proseText(line), '- '));
    case 'facts':
      return factLines(block.facts, width);
    case 'table': {
      const { caption, table, ifEmpty, notes } = block;
      const report = asReport(document, section, block);
      return [
        ...(caption === undefined ? [] : [...wrapWords(visible(caption), width).map(style.strong)]),
        ...(table.rows.length === 0 ? set(visible(ifEmpty)) : tableLines(report, look, style)),
        ...(notes.length === 0
          ? []
          : ['', ...notes.flatMap((note) => noteLines(note, look, style))]),
      ];
    }
    case 'notes':
      return block.notes.flatMap((note) => noteLines(note, look, style));
    case 'blanks':
      return wrapWords(`${visible(block.text)}${` ${BLANK}`.repeat(block.count)}`, width);
    case 'form':
      return formLines(block, width, style);
    case 'code':
      return block.text.trimEnd().split('\n').map(visible);
    case 'figure':
      return set(visible(`${block.figure.title}: ${proseText(block.figure.alt)}`));
    case 'photo':
      return set(`Photo: ${visible(block.photo.path)}`);
  }
}

/** The aside at the right end of the line; below where both do not fit. */
function subheadingLines(
  { text, aside = '' }: { readonly text: string; readonly aside?: string },
  width: number,
  style: Style,
): Lines {
  const [left, right] = [visible(text), visible(aside)];
  const gap = width - displayWidth(left) - displayWidth(right);
  if (right === '' || gap < 2) {
    const below = right === '' ? [] : hang('  ', right, width).map(style.quiet);
    return [...wrapWords(left, width).map(style.strong), ...below];
  }
  return [`${style.strong(left)}${' '.repeat(gap)}${style.quiet(right)}`];
}

/** A label wider than this does not push the others' texts aside. */
const WIDEST_LABEL = 24;

/** Labels in a column of their own, texts beside them. */
function factLines(facts: readonly Fact[], width: number): Lines {
  const labels = facts.map(({ label }) => displayWidth(visible(label)));
  const widest = Math.max(0, ...labels.filter((one) => one <= Math.min(WIDEST_LABEL, width / 3)));
  return facts.flatMap(({ label, text }) => {
    if (label === '') return hang('  ', visible(text), width);
    const shown = visible(label);
    const gap = ' '.repeat(Math.max(0, widest - displayWidth(shown)) + 2);
    return displayWidth(shown) > widest
      ? [...hang('  ', shown, width), ...hang(' '.repeat(widest + 4), visible(text), width)]
      : hang(`  ${shown}${gap}`, visible(text), width);
  });
}

/** A block a record with a line between, its boxes as square brackets. */
function formLines({ line, boxes, records }: FormBlock, width: number, style: Style): Lines {
  const indent = 2 + Math.max(...records.map(({ id }) => displayWidth(visible(id))));
  return records.flatMap((record, at) => [
    ...(at === 0 ? [] : ['']),
    ...recordLines(record, boxes, { line, indent, width, style }),
  ]);
}

interface FormSetting {
  readonly line: string;
  readonly indent: number;
  readonly width: number;
  readonly style: Style;
}

function recordLines(
  { id, name, aside, barred, known, own, lines }: FormRecord,
  boxes: readonly FormBox[],
  { line, indent, width, style }: FormSetting,
): Lines {
  const room = width - indent;
  const inset = (texts: Lines) => texts.map((text) => `${' '.repeat(indent)}${text}`);
  const below = (text: string) => inset(wrapWords(visible(text), room));
  const named = aside === undefined ? name : `${name}, ${aside}`;
  const open = boxes.filter(({ isBarred }) => barred === undefined || !isBarred);
  const lead = `${visible(id)}${' '.repeat(indent - displayWidth(visible(id)))}`;
  return [
    ...hang(lead, visible(named), width).map(style.strong),
    ...(barred === undefined ? [] : below(barred.toUpperCase()).map(style.caution)),
    ...(known.length === 0 ? [] : below(known.join(' '))),
    ...lines.flatMap(({ label, due }) => [
      ...(due.length === 0 ? [] : below(`${label}: ${due.join(' ')}`)),
      ...inset(boxLines(label === '' ? [lineBox(line.toLowerCase()), ...open] : open, room)),
    ]),
    ...(own === undefined ? [] : inset([boxText(`${own.label} ${own.unit}`, 8)])),
  ];
}

/** Which crop, or whatever a line is of, where nothing says it. */
function lineBox(line: string): FormBox {
  return { label: line, inGroup: line, group: '', room: 'some', isBarred: false };
}

const BOX = { few: 3, some: 5, much: 60 } as const;

/** Boxes side by side, as many as a line takes; one for much has a line of its own. */
function boxLines(boxes: readonly FormBox[], room: number): Lines {
  const lines: string[] = [];
  let isFull = true;
  for (const { label, room: size } of boxes) {
    const wide = Math.min(BOX[size], Math.max(3, room - displayWidth(`${label} []`)));
    const box = boxText(label, wide);
    const longer = `${lines.at(-1)}  ${box}`;
    if (isFull || size === 'much' || displayWidth(longer) > room) lines.push(box);
    else lines.splice(-1, 1, longer);
    isFull = size === 'much';
  }
  return lines;
}

function boxText(label: string, wide: number): string {
  return `${label} [${' '.repeat(wide)}]`;
}
