import type { Figure } from '../report/figure.ts';
import type { Post, PostBlock, PostSection } from '../report/post.ts';
import { htmlPage, ledgerLine } from './html-page.ts';
import { htmlNotes, htmlTable } from './html-table.ts';
import { escaped } from './html-text.ts';
import { proseText } from './prose.ts';

/**
 * The post as a page of its own: no script, nothing fetched, figures inside.
 *
 * @param figures SVG of each figure for a page, by key; one that is not there is left out
 */
export function renderPostHtml(post: Post, figures: ReadonlyMap<string, string>): string {
  // Most titles begin with that of the ledger.
  const ledger = post.title.includes(post.ledgerTitle) ? '' : post.ledgerTitle;
  const keywords = escaped(post.tags.join(', '));
  let tables = 0;
  const id = () => `table-${++tables}`;
  const sections = post.sections.map((section, at) => sectionText(section, at, figures, id));
  return htmlPage({
    title: post.title,
    head: `<meta name="description" content="${escaped(post.description)}">
${keywords === '' ? '' : `<meta name="keywords" content="${keywords}">\n`}`,
    style: 'read',
    body: `<main class="post">
<header>
${ledgerLine(ledger)}<h1>${escaped(post.title)}</h1>
<p class="ledger"><time datetime="${escaped(post.date)}">${escaped(post.date)}</time></p>
</header>
${sections.join('')}</main>
`,
  });
}

function sectionText(
  { heading, blocks }: PostSection,
  at: number,
  figures: ReadonlyMap<string, string>,
  id: () => string,
): string {
  const name = `section-${at + 1}`;
  const body = blocks.map((block) => blockText(block, figures, id)).join('');
  return `<section aria-labelledby="${name}">
<h2 id="${name}">${escaped(heading)}</h2>
${body}</section>
`;
}

function blockText(
  block: PostBlock,
  figures: ReadonlyMap<string, string>,
  id: () => string,
): string {
  switch (block.kind) {
    case 'subheading':
      return `<h3>${escaped(block.text)}</h3>\n`;
    case 'paragraph':
      return `<p>${escaped(proseText(block.text))}</p>\n`;
    case 'list':
      return `<ul class="lines">\n${block.lines
        .map((line) => `<li>${escaped(proseText(line))}</li>\n`)
        .join('')}</ul>\n`;
    case 'table':
      return `${htmlTable(block.table, id())}${htmlNotes(block.table.notes)}`;
    case 'figure':
      return figureText(block.figure, figures.get(block.figure.key));
  }
}

function figureText(figure: Figure, svg: string | undefined): string {
  if (svg === undefined) return '';
  return `<figure>
${svg}<figcaption><strong>${escaped(figure.title)}.</strong> ${escaped(figure.reading)}</figcaption>
</figure>
`;
}
