import { dayAndYear } from '../report/day-words.ts';
import {
  asReport,
  type Block,
  type Document,
  type Fact,
  photosOf,
  type Section,
} from '../report/document.ts';
import type { Ground } from './figure-style.ts';
import { proseText } from './format-cell.ts';
import { figuresPage, htmlPage, ledgerLine } from './html-page.ts';
import { formTable, htmlNotes, htmlTable, paperTable } from './html-table.ts';
import { escaped } from './html-text.ts';
import {
  address,
  cardAddress,
  type Pictures,
  type SharePicture,
  sharePicture,
} from './pictures.ts';

/** The document as a page of its own: no script, nothing fetched from elsewhere, figures inside. */
export function renderDocumentHtml(
  document: Document,
  pictures: Pictures,
  ground: Ground = 'auto',
): string {
  const { title, ledgerTitle, published, sections, notes } = document;
  if (document.paper !== undefined) return paperPage(document, document.paper, pictures);
  const tables = { count: 0 };
  const told = sections.map((section, at) =>
    sectionText(section, at, { document, pictures, tables }),
  );
  const body = `${told.join('')}${htmlNotes(notes)}`;
  const hasPhotos = photosOf(document).some(({ path }) => pictures.links.has(path));
  if (published === undefined)
    return figuresPage(document, body, { hasPhotos, ground, layout: 'told' });
  // Most titles begin with that of the ledger.
  const ledger = title.includes(ledgerTitle) ? '' : ledgerTitle;
  const date = escaped(published.date);
  return htmlPage({
    title,
    head: metaOf(title, published, sharePicture(document, pictures)),
    style: 'read',
    ground,
    hasPhotos,
    body: `<main class="told post">
<header>
${ledgerLine(ledger)}<h1>${escaped(title)}</h1>
<p class="ledger"><time datetime="${date}">${escaped(dayAndYear(published.date))}</time></p>
</header>
${body}</main>
`,
  });
}

/** Pages to print and fill in: each begins on a sheet of its own. */
function paperPage(
  document: Document,
  paper: NonNullable<Document['paper']>,
  pictures: Pictures,
): string {
  const { ledgerTitle, sections, notes } = document;
  const title = `${document.title}, ${ledgerTitle}`;
  const around = { document, pictures, tables: { count: 0 } };
  const told = sections.map((section) => {
    // The head of a form says it on every page.
    const isHeaded = section.heading === '' || section.blocks[0]?.kind === 'form';
    const heading = isHeaded ? '' : `<h2>${escaped(section.heading)}</h2>\n`;
    const body = section.blocks.map((block) => blockText(section, block, around)).join('');
    return `${section.isNewPage === true ? '</section>\n<section>\n' : ''}${heading}${body}`;
  });
  return htmlPage({
    title,
    style: paper,
    body: `<section>\n<h1>${escaped(title)}</h1>\n${told.join('')}${htmlNotes(notes)}</section>\n`,
  });
}

function metaOf(
  title: string,
  { description, tags }: NonNullable<Document['published']>,
  picture: SharePicture | undefined,
): string {
  const keywords = escaped(tags.join(', '));
  return `<meta name="description" content="${escaped(description)}">
<meta property="og:type" content="article">
<meta property="og:title" content="${escaped(title)}">
<meta property="og:description" content="${escaped(description)}">
${pictureOf(picture)}${keywords === '' ? '' : `<meta name="keywords" content="${keywords}">\n`}`;
}

function pictureOf(picture: SharePicture | undefined): string {
  if (picture === undefined) return '';
  return `<meta property="og:image" content="${escaped(picture.url)}">
<meta property="og:image:alt" content="${escaped(picture.alt)}">
`;
}

interface Around {
  readonly document: Document;
  readonly pictures: Pictures;
  /** Captions are named by number within the page. */
  readonly tables: { count: number };
}

function sectionText(section: Section, at: number, around: Around): string {
  const name = `section-${at + 1}`;
  const body = section.blocks.map((block) => blockText(section, block, around)).join('');
  if (section.heading === '') return `<section>\n${body}</section>\n`;
  return `<section aria-labelledby="${name}">
<h2 id="${name}">${escaped(section.heading)}</h2>
${body}</section>
`;
}

function blockText(section: Section, block: Block, around: Around): string {
  const { document, pictures, tables } = around;
  switch (block.kind) {
    case 'subheading':
      return `<h3>${escaped(block.text)}</h3>\n${
        block.aside === undefined ? '' : `<p class="aside">${escaped(block.aside)}</p>\n`
      }`;
    case 'paragraph':
      return `<p>${escaped(proseText(block.text))}</p>\n`;
    case 'lines':
      return `<p>${escaped(block.lines.map(proseText).join(' '))}</p>\n`;
    case 'list':
      return listText(block.lines.map((line) => escaped(proseText(line))));
    case 'facts':
      return factsText(block.facts, pictures);
    case 'table': {
      const report = asReport(document, section, block);
      if (document.paper !== undefined) return paperTable(report);
      const isShown = block.caption !== undefined;
      return `${htmlTable(report, `table-${++tables.count}`, isShown)}${htmlNotes(block.notes)}`;
    }
    case 'notes':
      return htmlNotes(block.notes);
    case 'blanks': {
      const blanks = ' <span class="blank"></span>'.repeat(block.count);
      return `<p class="order">${escaped(block.text)}${blanks}</p>\n`;
    }
    case 'form':
      return formTable(block);
    case 'code':
      return `<pre>${block.text.split('\n').map(escaped).join('\n')}</pre>\n`;
    case 'figure': {
      const { key, title, reading } = block.figure;
      const svg = pictures.drawn.get(key);
      return svg === undefined
        ? ''
        : `<figure>
${svg}<figcaption><strong>${escaped(title)}.</strong> ${escaped(reading)}</figcaption>
</figure>
`;
    }
    case 'photo': {
      const { path, alt } = block.photo;
      const link = pictures.links.get(path);
      return link === undefined
        ? ''
        : // The caption is for the eye: it says what those who hear the page are told in place of the picture.
          `<figure class="photo">
<img src="${escaped(address(link))}" alt="${escaped(alt)}">
<figcaption aria-hidden="true">${escaped(alt)}.</figcaption>
</figure>
`;
    }
  }
}

/** Pairs of label and text where every line has a label, else a plain list. */
function factsText(facts: readonly Fact[], pictures: Pictures): string {
  const named = (fact: Fact) => {
    const card = cardAddress(fact, pictures);
    const label = escaped(fact.label);
    return card === undefined ? label : `<a href="${escaped(card)}">${label}</a>`;
  };
  if (facts.every(({ label }) => label !== '')) {
    const pairs = facts.map((fact) => `<dt>${named(fact)}</dt>\n<dd>${escaped(fact.text)}</dd>\n`);
    return `<dl>\n${pairs.join('')}</dl>\n`;
  }
  return listText(
    facts.map((fact) => {
      const before = fact.label === '' ? '' : `<strong>${named(fact)}:</strong> `;
      return `${before}${escaped(fact.text)}`;
    }),
  );
}

/** @param lines as HTML */
function listText(lines: readonly string[]): string {
  return `<ul class="lines">\n${lines.map((line) => `<li>${line}</li>\n`).join('')}</ul>\n`;
}
