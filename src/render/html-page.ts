import type { Report } from '../report/table.ts';
import type { Ground } from './figure-style.ts';
import { htmlStyle, paperStyle } from './html-style.ts';
import { htmlNotes, htmlTable, isBroad } from './html-table.ts';
import { escaped } from './html-text.ts';

/** What goes between the frame of every page. */
export interface HtmlPage {
  /** As text. */
  readonly title: string;
  /** Further lines of the head, as HTML. */
  readonly head?: string;
  /** To be read on a screen, or to be printed and filled in. */
  readonly style: 'read' | 'portrait' | 'landscape';
  /** Of what is read on a screen; by that of the reader if left out. Paper is light. */
  readonly ground?: Ground;
  /** Whether it shows pictures that lie beside it. */
  readonly hasPhotos?: boolean;
  /** Whether paper is held across for it. */
  readonly isBroad?: boolean;
  /** As HTML. */
  readonly body: string;
}

/** A page of its own: no script, nothing fetched from elsewhere. */
export function htmlPage({
  title,
  head = '',
  style,
  ground = 'auto',
  hasPhotos = false,
  isBroad = false,
  body,
}: HtmlPage): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="${POLICY}${hasPhotos ? PHOTO_POLICY : ''}">
<title>${escaped(title)}</title>
${head}<style>
${style === 'read' ? htmlStyle(ground) : paperStyle(style)}${isBroad ? ACROSS : ''}</style>
</head>
<body>
${body}</body>
</html>
`;
}

const ACROSS = '@page {\n  size: landscape;\n}\n';

/** What a page may load: nothing, save its own style sheet. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'";
const PHOTO_POLICY = "; img-src 'self'";

/**
 * A page of figures: the ledger and the title above what is told, which is HTML. It lies over the
 * whole window, or in a column of text.
 */
export function figuresPage(
  { title, ledgerTitle }: { readonly title: string; readonly ledgerTitle: string },
  told: string,
  {
    hasPhotos = false,
    ground = 'auto',
    layout = 'wide',
    isBroad = false,
  }: Pick<HtmlPage, 'hasPhotos' | 'ground' | 'isBroad'> & {
    readonly layout?: 'wide' | 'told';
  } = {},
): string {
  return htmlPage({
    title: ledgerTitle === '' ? title : `${title} | ${ledgerTitle}`,
    style: 'read',
    ground,
    hasPhotos,
    isBroad,
    body: `<main${layout === 'told' ? ' class="told"' : ''}>\n${ledgerLine(ledgerTitle)}<h1>${escaped(title)}</h1>\n${told}</main>\n`,
  });
}

/** The name of the ledger above a title, where it has one. */
export function ledgerLine(ledgerTitle: string): string {
  return ledgerTitle === '' ? '' : `<p class="ledger">${escaped(ledgerTitle)}</p>\n`;
}

/** The report as a page readable by screen readers, on a phone, in the dark and on paper. */
export function renderHtml(report: Report): string {
  return figuresPage(report, `${htmlTable(report, 'caption')}${htmlNotes(report.notes)}`, {
    isBroad: isBroad(report),
  });
}
