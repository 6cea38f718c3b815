import {
  asReport,
  BLANK,
  type Block,
  type Document,
  type FormBlock,
  type FrontValue,
  type Published,
  type Section,
} from '../report/document.ts';
import { sentence } from '../report/words.ts';
import { visible } from '../source/visible.ts';
import { proseText } from './format-cell.ts';
import { literal, markdownRow, markdownTable, noteLine, opening } from './markdown.ts';
import {
  address,
  cardAddress,
  type Pictures,
  type SharePicture,
  sharePicture,
} from './pictures.ts';

/**
 * The document as Markdown. What is published is a file of its own and begins at the top level of
 * headings, or with YAML for a site generator; anything else may go into a text of yours.
 */
export function renderDocumentMarkdown(
  document: Document,
  pictures: Pictures,
  withFrontMatter: boolean,
): string {
  const { title, published, paper, sections, notes } = document;
  const top = published === undefined && paper === undefined ? '##' : '#';
  const head =
    published !== undefined && withFrontMatter
      ? frontMatter(title, published, sharePicture(document, pictures)).trimEnd()
      : `${top} ${literal(title)}`;
  const blocks = [
    head,
    ...sections.flatMap((section) => [
      section.isNewPage === true ? NEXT_PAGE : '',
      section.heading === '' ? '' : `${top}# ${literal(section.heading)}`,
      ...section.blocks.map((block) =>
        blockText(block, { document, section, pictures, below: `${top}##` }),
      ),
    ]),
    // Without a heading between them, two lists would run into one.
    ...(notes.length === 0
      ? []
      : [paper === undefined ? `${top}# About these figures` : '', notes.map(noteLine).join('\n')]),
  ];
  return `${blocks.filter((block) => block !== '').join('\n\n')}\n`;
}

/** Markdown has no break of its own; as HTML this begins a page where the document is printed. */
const NEXT_PAGE = '<div style="break-before: page"></div>';

interface Around {
  readonly document: Document;
  readonly section: Section;
  readonly pictures: Pictures;
  /** Marks of a heading inside the section. */
  readonly below: string;
}

function blockText(block: Block, { document, section, pictures, below }: Around): string {
  switch (block.kind) {
    case 'subheading':
      return [`${below} ${literal(block.text)}`, opening(block.aside ?? '')]
        .filter((part) => part !== '')
        .join('\n\n');
    case 'paragraph':
      return opening(proseText(block.text));
    case 'lines':
      return opening(block.lines.map(proseText).join(' '));
    case 'list':
      return block.lines.map((line) => `- ${opening(proseText(line))}`).join('\n');
    case 'facts':
      return block.facts
        .map((fact) => {
          if (fact.label === '') return `- ${opening(fact.text)}`;
          const card = cardAddress(fact, pictures);
          const label = literal(fact.label);
          const named = card === undefined ? label : `[${label}](${card})`;
          return `- **${named}:** ${literal(fact.text)}`;
        })
        .join('\n');
    case 'table': {
      const { caption, table, ifEmpty, notes } = block;
      const isEmpty = table.rows.length === 0;
      return [
        caption === undefined ? '' : `**${literal(caption)}**`,
        isEmpty ? literal(ifEmpty) : markdownTable(asReport(document, section, block)),
        notes.map(noteLine).join('\n'),
      ]
        .filter((part) => part !== '')
        .join('\n\n');
    }
    case 'notes':
      return block.notes.map(noteLine).join('\n');
    case 'blanks':
      return literal(`${block.text}${` ${BLANK}`.repeat(block.count)}`);
    case 'form':
      return formText(block);
    case 'code':
      return `\`\`\`${block.language}\n${block.text}\`\`\``;
    case 'figure': {
      const { key, title, alt } = block.figure;
      return image(`${title}. ${proseText(alt)}`, pictures.links.get(key));
    }
    case 'photo':
      return image(block.photo.alt, pictures.links.get(block.photo.path));
  }
}

function image(alt: string, link: string | undefined): string {
  return link === undefined ? '' : `![${literal(alt)}](${address(link)})`;
}

/** A table with a row a line, blank cells to write in; what is known stands in the first of a record. */
function formText({ boxes, records, ...heads }: FormBlock): string {
  const named = [
    heads.record,
    heads.name,
    'Known and due',
    heads.line,
    ...boxes.map(({ label }) => sentence(label)),
  ];
  const rows = records.flatMap(({ id, name, aside, barred, known, own, lines }) =>
    lines.map(({ label, due }, at) => {
      const isFirst = at === 0;
      const whole = [
        ...(barred === undefined ? [] : [`**${literal(barred)}**`]),
        ...known.map(literal),
        ...(own === undefined
          ? []
          : [literal(`${sentence(own.label)} now (${own.unit}): ${BLANK}`)]),
      ];
      return [
        isFirst ? literal(id) : '',
        isFirst ? literal(aside === undefined ? name : `${name}, ${aside}`) : '',
        [...(isFirst ? whole : []), ...due.map(literal)].join(' '),
        literal(label),
        ...boxes.map(({ isBarred }) => (barred !== undefined && isBarred ? 'wait' : '')),
      ];
    }),
  );
  return [named, named.map(() => '---'), ...rows].map(markdownRow).join('\n');
}

/**
 * Title, date, description, picture and tags as YAML between lines of three dashes, as site generators read
 * them. Text is written as JSON strings, which YAML 1.2 reads letter by letter (1.2.2, 1.3). Site
 * generators put it into pages as it is, so signs that HTML or a template would take up are written as
 * their likes.
 */
export function frontMatter(
  title: string,
  { date, description, tags, front = new Map() }: Published,
  picture?: SharePicture,
): string {
  const ours = new Map<string, string>([
    ['title', quoted(title)],
    ['date', date],
    ['description', quoted(description)],
    ...(picture === undefined ? [] : [['image', quoted(picture.url)] as const]),
    ...(tags.length === 0 ? [] : [['tags', `[${tags.map(quoted).join(', ')}]`] as const]),
  ]);
  const theirs = [...front].map(([key, value]) => [key, written(value)] as const);
  const lines = [...new Map([...ours, ...theirs])].map(([key, value]) => `${key}: ${value}`);
  return `${['---', ...lines, '---'].join('\n')}\n`;
}

/** A value that the ledger gives, as it stands. */
function written(value: FrontValue): string {
  if (typeof value === 'string') return quoted(value);
  return typeof value === 'object' ? `[${value.map(quoted).join(', ')}]` : String(value);
}

function quoted(text: string): string {
  const plain = visible(text).replace(/[<>{}]/g, (sign) => ALIKE[sign] ?? sign);
  return JSON.stringify(plain);
}

const ALIKE: Readonly<Record<string, string>> = { '<': '‹', '>': '›', '{': '(', '}': ')' };
