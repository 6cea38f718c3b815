import { displayWidth, headOf, isWider, REACH, tailOf } from './display-width.ts';
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
 * Marks are set by display width, so they stand right under wide characters too. No line takes
 * more than `width` columns: a longer one is cut around the span, with `ellipsis` at a cut.
 */
export function frameOf(span: Span, width = 76, ellipsis = '…'): readonly FrameLine[] {
  const { line, column } = positionAt(span.file, span.start);
  const raw = lineText(span.file, line);
  const from = Math.min(column - 1, raw.length);
  const to = Math.max(from, Math.min(span.end - offsetOfLine(span.file, line), raw.length));
  const frame: FrameLine[] = [];
  const previous = line > 1 ? lineText(span.file, line - 1) : '';
  if (previous.trim() !== '') {
    frame.push({ line: line - 1, text: cutEnd(safely(previous, 0, width), width, ellipsis) });
  }
  const before = cutStart(raw, from, width, ellipsis);
  const room = width - displayWidth(before);
  const after = cutEnd(safely(raw, from, room), room, ellipsis);
  const marked = Math.min(displayWidth(safely(raw, from, room, to)), displayWidth(after));
  const marks = ' '.repeat(displayWidth(before)) + '^'.repeat(Math.max(1, marked));
  frame.push({ line, text: before + after }, { text: marks });
  return frame;
}

/** What stands before the span: all of it up to half the width, else a third of the width. */
function cutStart(raw: string, from: number, width: number, ellipsis: string): string {
  const start = Math.max(0, from - width * REACH);
  const before = visible(raw.slice(start, from));
  const whole = start === 0 && displayWidth(before) < width;
  if (whole && displayWidth(before + safely(raw, from, width)) <= width) return before;
  if (whole && displayWidth(before) <= width / 2) return before;
  return ellipsis + tailOf(before, Math.floor(width / 3) - displayWidth(ellipsis));
}

function cutEnd(text: string, width: number, ellipsis: string): string {
  if (!isWider(text, width)) return text;
  return headOf(text, width - displayWidth(ellipsis)) + ellipsis;
}

/** Visible text from an offset of the line, a little more than can be shown at that width. */
function safely(raw: string, from: number, width: number, to = raw.length): string {
  return visible(raw.slice(from, Math.min(to, from + width * REACH + 1)));
}
