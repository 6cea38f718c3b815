import type { Post, PostBlock } from '../report/post.ts';
import { frontMatter } from './front-matter.ts';
import { literal, markdownTable, noteLine, opening } from './markdown-parts.ts';
import { proseText } from './prose.ts';

export interface MarkdownPost {
  /** Whether a block of YAML stands at the head; without it the title is a heading. */
  readonly frontMatter: boolean;
  /** Where the figure with a key can be found from the post; one that is not there is left out. */
  readonly figures: ReadonlyMap<string, string>;
}

/** The post as Markdown for a site generator. */
export function renderPostMarkdown(post: Post, settings: MarkdownPost): string {
  const head = settings.frontMatter ? frontMatter(post) : `# ${literal(post.title)}\n`;
  const sections = post.sections.flatMap(({ heading, blocks }) => [
    `## ${literal(heading)}`,
    ...blocks.map((block) => blockText(block, settings)).filter((text) => text !== ''),
  ]);
  return `${[head.trimEnd(), ...sections].join('\n\n')}\n`;
}

function blockText(block: PostBlock, { figures }: MarkdownPost): string {
  switch (block.kind) {
    case 'subheading':
      return `### ${literal(block.text)}`;
    case 'paragraph':
      return opening(proseText(block.text));
    case 'list':
      return block.lines.map((line) => `- ${opening(proseText(line))}`).join('\n');
    case 'table':
      return [
        `**${literal(block.table.title)}**`,
        markdownTable(block.table),
        ...(block.table.notes.length > 0 ? [block.table.notes.map(noteLine).join('\n')] : []),
      ].join('\n\n');
    case 'figure': {
      const link = figures.get(block.figure.key);
      if (link === undefined) return '';
      const alt = literal(`${block.figure.title}. ${proseText(block.figure.alt)}`);
      return `![${alt}](${address(link)})`;
    }
  }
}

/** A path as a link: blanks and marks of Markdown are percent-encoded (RFC 3986). */
function address(path: string): string {
  return path
    .split('/')
    .map((part) => encodeURIComponent(part).replace(/[!'()*]/g, percentEncoded))
    .join('/');
}

function percentEncoded(character: string): string {
  return `%${character.charCodeAt(0).toString(16).toUpperCase()}`;
}
