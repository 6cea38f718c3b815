import type { Document } from '../report/document.ts';
import type { Ground } from './figure-style.ts';
import type { Look } from './look.ts';
import type { Pictures } from './pictures.ts';

/** The forms in which a document can be had: a table of figures alone would lose the rest of it. */
export const DOCUMENT_FORMATS = ['text', 'markdown', 'html', 'json'] as const;
export type DocumentFormat = (typeof DOCUMENT_FORMATS)[number];

export interface DocumentSetting {
  readonly look: Look;
  readonly pictures: Pictures;
  /** Whether YAML stands at the head of published Markdown; else its title is a heading. */
  readonly frontMatter: boolean;
  /** Of pages of HTML. */
  readonly ground?: Ground | undefined;
}

/** The document in one of the forms, ended by one line feed; the same figures in all. */
export async function renderDocument(
  document: Document,
  format: DocumentFormat,
  { look, pictures, frontMatter, ground }: DocumentSetting,
): Promise<string> {
  switch (format) {
    case 'text':
      return (await import('./document-text.ts')).renderDocumentText(document, look);
    case 'markdown': {
      const { renderDocumentMarkdown } = await import('./document-markdown.ts');
      return renderDocumentMarkdown(document, pictures, frontMatter);
    }
    case 'html':
      return (await import('./document-html.ts')).renderDocumentHtml(document, pictures, ground);
    case 'json':
      return (await import('./document-json.ts')).renderDocumentJson(document);
  }
}
