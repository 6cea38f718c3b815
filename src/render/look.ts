/** How much the place of output can show. */
export interface Look {
  /** Columns of the terminal. */
  readonly width: number;
  /** 0 none, 1 sixteen colours, 2 256 colours, 3 true colour. */
  readonly colorLevel: 0 | 1 | 2 | 3;
  /** Whether characters outside ASCII may be used for lines, dashes and dots. */
  readonly unicode: boolean;
}

/** Width that lines are made for: the look's, but never too narrow for words. */
export function lineWidth(look: Look): number {
  return Number.isFinite(look.width) ? Math.max(MIN_WIDTH, Math.floor(look.width)) : MAX_WIDTH;
}

/** Width for running text, which is hard to read in long lines. */
export function proseWidth(look: Look): number {
  return Math.min(lineWidth(look), MAX_PROSE);
}

const MIN_WIDTH = 20;
const MAX_WIDTH = 10_000;
const MAX_PROSE = 100;
