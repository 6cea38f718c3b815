import type { Note, Report } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { type Fit, fitColumns } from './fit-columns.ts';
import { type Look, lineWidth, proseWidth } from './look.ts';
import { peopleColumns } from './people-columns.ts';
import { withStrips } from './strip-columns.ts';
import { type Style, styleFor } from './style.ts';
import { drawGrid } from './text-grid.ts';
import { hang, wrapWords } from './text-lines.ts';
import { NOTHING } from './words.ts';

/** The report for a terminal or a text file, fitted to `look.width`. */
export function renderText(report: Report, look: Look): string {
  const style = styleFor(look.colorLevel);
  const title = wrapWords(visible(report.title), proseWidth(look)).map(style.strong);
  const blocks = [title, tableLines(report, look, style)];
  const notes = report.notes.flatMap((note) => noteLines(note, look, style));
  if (notes.length > 0) blocks.push(notes);
  // A last row without a figure is an empty line, which must not end the output.
  return `${blocks
    .map((lines) => lines.join('\n'))
    .join('\n\n')
    .trimEnd()}\n`;
}

/**
 * The table alone.
 *
 * @param whole the form in which all of it can be had, where the width does not suffice
 */
export function tableLines(
  report: Report,
  look: Look,
  style: Style,
  whole: 'csv' | 'json' = 'csv',
): readonly string[] {
  const joiner = look.unicode ? '–' : ' to ';
  const columns = withStrips(report, peopleColumns(report, { joiner, padEnds: true }), look);
  if (report.rows.length === 0 || columns.length === 0) {
    return wrapWords(report.ifEmpty ?? NOTHING, proseWidth(look));
  }
  const fit = fitColumns(columns, lineWidth(look), look.unicode ? '…' : '...');
  const grid = drawGrid(fit.columns, look.unicode ? '─' : '-');
  const head = [...grid.head.map(style.strong), style.quiet(grid.rule)];
  const loss = lossOf(fit, whole);
  const below = loss === '' ? [] : ['', ...wrapWords(loss, proseWidth(look)).map(style.quiet)];
  return [...head, ...grid.body, ...below];
}

/** What the width did not leave room for, and how to see it; empty if nothing is missing. */
function lossOf(fit: Fit, whole: string): string {
  const losses: string[] = [];
  if (fit.leftOut.length > 0) losses.push(`Left out for lack of width: ${fit.leftOut.join(', ')}.`);
  if (fit.shortened) losses.push('Long text is cut short.');
  if (losses.length === 0) return '';
  const wider = fit.fullWidth === undefined ? '' : `, or a terminal ${fit.fullWidth} columns wide`;
  return `${losses.join(' ')} All of it: --format ${whole}${wider}.`;
}

export function noteLines(note: Note, look: Look, style: Style): readonly string[] {
  const isCaution = note.kind === 'caution';
  const text = `${isCaution ? 'Caution: ' : ''}${visible(note.text)}`;
  const lines = hang('- ', text, proseWidth(look));
  return isCaution ? lines.map(style.caution) : lines;
}
