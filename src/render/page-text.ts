import { type Line, type Page, type Section, tableAsReport } from '../report/page.ts';
import { displayWidth } from '../source/display-width.ts';
import { visible } from '../source/visible.ts';
import { type Look, proseWidth } from './look.ts';
import { type Style, styleFor } from './style.ts';
import { noteLines, tableLines } from './text.ts';
import { hang, wrapWords } from './text-lines.ts';

/** The page for a terminal or a text file, fitted to `look.width`. */
export function renderPageText(page: Page, look: Look): string {
  const style = styleFor(look.colorLevel);
  const blocks = [
    wrapWords(visible(page.title), proseWidth(look)).map(style.strong),
    ...page.sections.map((section) => sectionLines(page, section, look, style)),
    page.notes.flatMap((note) => noteLines(note, look, style)),
  ];
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n').trimEnd())
    .join('\n\n')}\n`;
}

function sectionLines(page: Page, section: Section, look: Look, style: Style): readonly string[] {
  const heading = wrapWords(visible(section.heading), proseWidth(look)).map(style.strong);
  if (section.kind === 'lines') return [...heading, ...factLines(section.lines, look)];
  if (section.table.rows.length === 0) {
    return [...heading, ...hang('  ', visible(section.ifEmpty), proseWidth(look))];
  }
  return [...heading, '', ...tableLines(tableAsReport(page, section), look, style)];
}

/** A lead wider than this does not push the others' texts aside. */
const WIDEST_LEAD = 24;

/** Leads in a column of their own, texts beside them. */
function factLines(lines: readonly Line[], look: Look): readonly string[] {
  const width = proseWidth(look);
  const leads = lines.map(({ lead }) => displayWidth(visible(lead)));
  const widest = Math.max(0, ...leads.filter((lead) => lead <= Math.min(WIDEST_LEAD, width / 3)));
  return lines.flatMap(({ lead, text }) => {
    if (lead === '') return hang('  ', visible(text), width);
    const shown = visible(lead);
    const gap = ' '.repeat(Math.max(0, widest - displayWidth(shown)) + 2);
    return displayWidth(shown) > widest
      ? [...hang('  ', shown, width), ...hang(' '.repeat(widest + 4), visible(text), width)]
      : hang(`  ${shown}${gap}`, visible(text), width);
  });
}
