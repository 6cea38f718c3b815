import stringWidth from 'string-width';
import { lineText, offsetOfLine, positionAt } from './position.ts';
import type { Span } from './source-file.ts';
import { visible } from './visible.ts';

export interface FrameLine {
  /** Line number in the file, absent for the line of marks. */
  readonly line?: number;
  readonly text: string;
}

/**
 * The line that a span begins on, the line before it, and a line of marks under the span.
 *
 * Marks are set by display width, so they stand right under wide characters too. Long lines are
 * cut around the span to `width` columns.
 */
export function frameOf(span: Span, width = 76): readonly FrameLine[] {
  const { line, column } = positionAt(span.file, span.start);
  const raw = lineText(span.file, line);
  const lineEnd = offsetOfLine(span.file, line) + raw.length;
  const from = column - 1;
  const to = Math.max(from, Math.min(span.end, lineEnd) - offsetOfLine(span.file, line));
  const cut = Math.max(0, Math.min(from - Math.floor(width / 3), raw.length - width));
  const lead = cut > 0 ? '…' : '';
  const shown = lead + visible(raw.slice(cut, cut + width));
  const before = lead + visible(raw.slice(cut, from));
  const marked = visible(raw.slice(from, Math.min(to, cut + width)));
  const marks = ' '.repeat(stringWidth(before)) + '^'.repeat(Math.max(1, stringWidth(marked)));
  const frame: FrameLine[] = [];
  if (line > 1) {
    const previous = visible(lineText(span.file, line - 1));
    if (previous.trim() !== '') frame.push({ line: line - 1, text: previous.slice(0, width) });
  }
  frame.push({ line, text: shown }, { text: marks });
  return frame;
}
