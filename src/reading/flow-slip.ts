import { HINTS } from '../entries/derive/hints.ts';

/** What was forgotten between two keys that stand on one line, in the words of a diagnostic. */
export interface FlowSlip {
  /** Offset in the text of what is to be marked. */
  readonly start: number;
  readonly end: number;
  readonly reason: string;
  readonly advice: string;
}

/** Every word that is a key of some file of a ledger. */
const KEYS: ReadonlySet<string> = new Set(
  Object.values(HINTS).flatMap((hints) =>
    Object.keys(hints).map((path) => path.slice(path.lastIndexOf('.') + 1)),
  ),
);

const KEY_INSIDE = /([^\s:,]+)[ \t]*:(?=\s|$)/;
/** What no text goes on after: a number, a date, a closed quote or bracket. */
const COMPLETE = /^(?:[-\d.]+|["'\]}]|"[^"]*"|'[^']*')$|[\]}]$/;

/**
 * `early fruit: 1` has a key in it, so a comma is missing; `Smoke & Rye: the real one` is a text with
 * a colon in it. Which of the two it is, the word before the colon tells.
 *
 * @param text the file
 * @param from where the value begins that runs on past its end
 * @param to where it ends to the reader
 * @param inBrackets whether it stands in `{ }`, where commas part the keys, not lines
 */
export function flowSlip(
  text: string,
  from: number,
  to: number,
  inBrackets: boolean,
): FlowSlip | undefined {
  const value = text.slice(from, to).trimEnd();
  const found = KEY_INSIDE.exec(value);
  const word = found?.[1]?.replace(/^(["'])(.*)\1$/, '$2');
  if (found === null || word === undefined) return undefined;
  const before = value.slice(0, found.index).trim();
  if (KEYS.has(word) || COMPLETE.test(before)) {
    const start = from + found.index;
    return {
      ...{ start, end: start + word.length },
      reason: inBrackets
        ? `a comma is missing before ${word}:`
        : `${word}: is on the line of another key`,
      advice: inBrackets
        ? `put a comma before ${word}:`
        : `put ${word}: on a line of its own, or text that holds a colon in quotes`,
    };
  }
  return {
    ...{ start: from, end: from + value.length },
    reason: 'a text without quotes holds a colon, so it reads as another key',
    advice: `put a name or a text that holds a colon in quotes: ${quoted(value)}`,
  };
}

/** On one line, and short enough to be read as an example. */
function quoted(value: string): string {
  const line = value.replace(/\s+/g, ' ');
  const shown = line.length <= MOST_SHOWN ? line : `${line.slice(0, MOST_SHOWN - 3)}...`;
  return /["\\]/.test(shown) ? `'${shown.replaceAll("'", "''")}'` : `"${shown}"`;
}

const MOST_SHOWN = 60;
