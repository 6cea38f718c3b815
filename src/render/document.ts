import type { Document } from '../report/document.ts';
import type { Ground } from './figure-style.ts';
import type { Look } from './look.ts';
import type { Pictures } from './pictures.ts';

/** The forms in which a document can be had: a table of figures alone would lose the rest of it. */
export const DOCUMENT_FORMATS = ['text', 'markdown', 'html', 'json'] as const;
export type DocumentFormat = (typeof DOCUMENT_FORMATS)[number];

/** Those that show pictures and lead to other pages. */
export type PageFormat = 'markdown' | 'html';

export interface PageSetting {
  readonly pictures: Pictures;
  /** Whether YAML stands at the head of published Markdown; else its title is a heading. */
  readonly frontMatter: boolean;
  /** Of pages of HTML. */
  readonly ground?: Ground | undefined;
}

export interface DocumentSetting extends PageSetting {
  readonly look: Look;
}

/** The document in one of the forms, ended by one line feed; the same figures in all. */
export async function renderDocument(
  document: Document,
  format: DocumentFormat,
  { look, ...setting }: DocumentSetting,
): Promise<string> {
  switch (format) {
    case 'text':
      return (await import('./document-text.ts')).renderDocumentText(document, look);
    case 'json':
      return (await import('./document-json.ts')).renderDocumentJson(document);
    default:
      return renderPage(document, format, setting);
  }
}

export async function renderPage(
  document: Document,
  format: PageFormat,
  { pictures, frontMatter, ground }: PageSetting,
): Promise<string> {
  if (format === 'html') {
    return (await import('./document-html.ts')).renderDocumentHtml(document, pictures, ground);
  }
  const { renderDocumentMarkdown } = await import('./document-markdown.ts');
  return renderDocumentMarkdown(document, pictures, frontMatter);
}
