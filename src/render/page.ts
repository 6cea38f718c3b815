import type { Page } from '../report/page.ts';
import type { Look } from './look.ts';

/** The forms in which a page can be had: a table of figures alone would lose the rest of it. */
export const PAGE_FORMATS = ['text', 'markdown', 'html', 'json'] as const;
export type PageFormat = (typeof PAGE_FORMATS)[number];

/** The page in one of the forms, ended by one line feed; the same figures in all. */
export async function renderPage(page: Page, format: PageFormat, look: Look): Promise<string> {
  switch (format) {
    case 'text':
      return (await import('./page-text.ts')).renderPageText(page, look);
    case 'markdown':
      return (await import('./page-markdown.ts')).renderPageMarkdown(page);
    case 'html':
      return (await import('./page-html.ts')).renderPageHtml(page);
    case 'json':
      return (await import('./page-json.ts')).renderPageJson(page);
  }
}
