import type { LineupSheet } from '../report/lineup-sheet.ts';
import { visible } from '../source/visible.ts';
import { fitColumns } from './fit-columns.ts';
import {
  howToTaste,
  LEFT_OUT_HEADING,
  leftOutLines,
  orderLine,
  pasteHeading,
  REASONS_HEADING,
  reasonLines,
  SERVER_HEADING,
  serverColumns,
  sheetColumns,
  sheetHeading,
} from './lineup-pages.ts';
import { lineupYaml } from './lineup-yaml.ts';
import { type Look, lineWidth, proseWidth } from './look.ts';
import type { PeopleColumn } from './people-columns.ts';
import { type Style, styleFor } from './style.ts';
import { drawGrid } from './text-grid.ts';
import { hang, wrapWords } from './text-lines.ts';

type Lines = readonly string[];

/** A form feed, so that nobody gets the sheet of another, or the key, on their paper. */
const NEXT_PAGE: Lines = ['\f'];

/** The sheets of a sitting for a terminal or a printer. */
export function renderLineupText(sheet: LineupSheet, look: Look): string {
  const style = styleFor(look.colorLevel);
  const heading = (text: string): Lines =>
    wrapWords(visible(text), proseWidth(look)).map(style.strong);
  const list = (lines: Lines): Lines =>
    lines.flatMap((line) => hang('- ', visible(line), proseWidth(look)));
  const section = (head: string, lines: Lines): Lines[] =>
    lines.length === 0 ? [] : [[...heading(head), ...list(lines)]];
  const notes = sheet.notes.flatMap(({ kind, text }) =>
    kind === 'caution'
      ? hang('- ', `Caution: ${visible(text)}`, proseWidth(look)).map(style.caution)
      : list([text]),
  );
  const blocks: Lines[] =
    sheet.samples.length === 0
      ? [heading(sheet.title), ...section(LEFT_OUT_HEADING, leftOutLines(sheet)), notes]
      : [
          heading(sheet.title),
          heading(SERVER_HEADING),
          table(serverColumns(sheet), look, style),
          ...section(REASONS_HEADING, reasonLines(sheet)),
          ...section(LEFT_OUT_HEADING, leftOutLines(sheet)),
          notes,
          ...sheet.orders.flatMap((order): Lines[] => [
            NEXT_PAGE,
            heading(sheetHeading(sheet, order)),
            wrapWords(howToTaste(sheet), proseWidth(look)),
            table(sheetColumns(sheet, order), look, style),
            wrapWords(orderLine(order), proseWidth(look)),
          ]),
          NEXT_PAGE,
          heading(pasteHeading(sheet)),
          // Not wrapped: it is there to be copied.
          lineupYaml(sheet).trimEnd().split('\n'),
        ];
  return `${blocks.map((lines) => lines.join('\n')).join('\n\n')}\n`;
}

function table(columns: readonly PeopleColumn[], look: Look, style: Style): Lines {
  const fit = fitColumns(
    columns,
    Math.min(lineWidth(look), proseWidth(look)),
    look.unicode ? '…' : '...',
  );
  const grid = drawGrid(fit.columns, look.unicode ? '─' : '-');
  return [...grid.head.map(style.strong), style.quiet(grid.rule), ...grid.body];
}
