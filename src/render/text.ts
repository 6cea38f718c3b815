import type { Note, Report } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { type Fit, fitColumns } from './fit-columns.ts';
import { type Look, lineWidth, proseWidth } from './look.ts';
import { NOTHING, type PeopleColumn, peopleColumns } from './people-columns.ts';
import { type NoteLevel, shownNotes } from './shown-notes.ts';
import { withStrips } from './strip-columns.ts';
import { type Style, styleFor } from './style.ts';
import { drawGrid, type Grid } from './text-grid.ts';
import { hang, wrapWords } from './text-lines.ts';

export interface Showing {
  /** All if left out. */
  readonly notes?: NoteLevel;
  /** Whether somebody chose the columns: then none is taken away for telling nothing. */
  readonly chosen?: boolean;
}

/** The report for a terminal or a text file, fitted to `look.width`. */
export function renderText(report: Report, look: Look, showing: Showing = {}): string {
  const { notes: level = 'all', chosen = false } = showing;
  const style = styleFor(look.colorLevel);
  const shown = chosen ? report : { ...report, ...report.screen };
  const table = fitTable(shown, look, !chosen);
  const { notes, held } = shownNotes(report.notes, level);
  const closing = [
    ...sameWords(table.same),
    ...notes,
    ...more(table.fit, held, level === 'few' && report.notes.some((one) => isHeld(one))),
  ];
  const blocks = [
    wrapWords(visible(report.title), proseWidth(look)).map(style.strong),
    table.fit === undefined
      ? wrapWords(report.ifEmpty ?? NOTHING, proseWidth(look))
      : gridLines(drawGrid(table.fit.columns, look.unicode ? '─' : '-'), style),
    closing.flatMap((note) => noteLines(note, look, style, level !== 'few')),
  ];
  // A last row without a figure is an empty line, which must not end the output.
  return `${blocks
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')
    .trimEnd()}\n`;
}

interface FittedTable {
  /** Undefined where there is nothing to show. */
  readonly fit: Fit | undefined;
  /** Columns that would say the same in every row. */
  readonly same: readonly PeopleColumn[];
}

function fitTable(report: Report, look: Look, isUnasked: boolean): FittedTable {
  const all = columnsOf(report, look);
  const columns = all.filter(({ onAsking }) => !(isUnasked && onAsking));
  if (report.rows.length === 0 || columns.length === 0) return { fit: undefined, same: [] };
  const same: PeopleColumn[] = [];
  let telling = columns;
  let fit = fitted(telling, look);
  // What takes the room of a column that is told once may be the same in every row as well.
  while (isUnasked) {
    const shown = telling.filter(({ header }) => !fit.leftOut.includes(header));
    const more = shown.filter(isSame);
    if (more.length === 0) break;
    same.push(...more);
    telling = telling.filter((column) => !more.includes(column));
    fit = fitted(telling, look);
  }
  const held = all.filter((column) => !columns.includes(column)).map(({ header }) => header);
  return { fit: { ...fit, leftOut: [...fit.leftOut, ...held] }, same };
}

function columnsOf(report: Report, look: Look): readonly PeopleColumn[] {
  const joiner = look.unicode ? '–' : ' to ';
  return withStrips(report, peopleColumns(report, { joiner, padEnds: true }), look);
}

function fitted(columns: readonly PeopleColumn[], look: Look): Fit {
  return fitColumns(columns, lineWidth(look), look.unicode ? '…' : '...');
}

/** A figure that is alike in all rows is told once; what names the rows stays. */
function isSame({ drop, isDrawing, cells }: PeopleColumn): boolean {
  return (
    drop > 0 &&
    isDrawing !== true &&
    cells.length > 1 &&
    cells.every((cell) => cell !== '' && cell === cells[0])
  );
}

function sameWords(columns: readonly PeopleColumn[]): Note[] {
  const words = columns.map(({ header, cells }) => `${header}: ${cells[0]}`);
  return words.length === 0
    ? []
    : [{ kind: 'evidence', text: `The same in every row: ${words.join('; ')}.` }];
}

function isHeld({ brief }: Note): boolean {
  return brief === undefined;
}

/** What else there is, and how to see it. */
function more(fit: Fit | undefined, held: number, isExplained: boolean): Note[] {
  const words = [
    (fit?.leftOut.length ?? 0) > 0 ? 'More columns: --columns.' : '',
    fit?.shortened === true ? 'Long text is cut short: --format csv has all of it.' : '',
    isExplained || held > 0
      ? `${held > 0 ? 'More notes, and how' : 'How'} it is worked out: --explain.`
      : '',
  ].filter((text) => text !== '');
  return words.length === 0 ? [] : [{ kind: 'evidence', text: words.join(' ') }];
}

function gridLines(grid: Grid, style: Style): readonly string[] {
  return [...grid.head.map(style.strong), style.quiet(grid.rule), ...grid.body];
}

/** A table on a page, where nothing can be chosen: it says itself what it has no room for. */
export function tableLines(report: Report, look: Look, style: Style): readonly string[] {
  const { fit } = fitTable(report, look, false);
  if (fit === undefined) return wrapWords(report.ifEmpty ?? NOTHING, proseWidth(look));
  const loss = lossOf(fit);
  const below = loss === '' ? [] : ['', ...wrapWords(loss, proseWidth(look)).map(style.quiet)];
  return [...gridLines(drawGrid(fit.columns, look.unicode ? '─' : '-'), style), ...below];
}

/** What the width did not leave room for, and how to see it; empty if nothing is missing. */
function lossOf(fit: Fit): string {
  const losses: string[] = [];
  if (fit.leftOut.length > 0) losses.push(`Left out for lack of width: ${fit.leftOut.join(', ')}.`);
  if (fit.shortened) losses.push('Long text is cut short.');
  if (losses.length === 0) return '';
  const wider = fit.fullWidth === undefined ? '' : `, or a terminal ${fit.fullWidth} columns wide`;
  return `${losses.join(' ')} All of it: --format json${wider}.`;
}

/** @param isNamed whether a caution says that it is one, and does not show it by its colour alone */
export function noteLines(note: Note, look: Look, style: Style, isNamed = true): readonly string[] {
  const isCaution = note.kind === 'caution';
  const text = `${isCaution && isNamed ? 'Caution: ' : ''}${visible(note.text)}`;
  const lines = hang('- ', text, proseWidth(look));
  return isCaution ? lines.map(style.caution) : lines;
}
