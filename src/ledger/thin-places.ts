import { lineAfter } from './line-ends.ts';
import { MARK, type ThinText } from './thin-text.ts';

/** How places in a text that was read are found in the whole text of its file. */
export interface Places {
  /** The text that was read. */
  readonly text: string;
  /** The offset in the whole text of an offset in the text that was read. */
  inWhole(offset: number): number;
  /** The entries that a stand-in at an offset stands for, from after their indent to their last character. */
  runAt(offset: number): readonly Entry[] | undefined;
}

interface Entry {
  readonly start: number;
  readonly end: number;
}

interface Run {
  /** Of the line of the stand-in in the thin text. */
  readonly from: number;
  readonly to: number;
  /** By how much what follows stands further on in the whole text. */
  readonly shift: number;
  readonly entries: readonly Entry[];
}

/** A text that was read as it is. */
export function wholePlaces(text: string): Places {
  return { text, inWhole: (offset) => offset, runAt: () => undefined };
}

/** A thin text, and the entries that each of its stand-ins stands for: how many lines each has. */
export interface StoodFor {
  readonly text: string;
  readonly lines: ReadonlyMap<string, readonly number[]>;
}

export function stoodFor({ text, runs }: ThinText): StoodFor {
  const lines = [...runs].map(([mark, run]) => {
    return [mark, run.kind === 'items' ? run.lines : run.pairs.map(() => 1)] as const;
  });
  return { text, lines: new Map(lines) };
}

/** The places of a text whose plain entries were read apart. */
export function thinPlaces(whole: string, thin: StoodFor): Places {
  const runs: Run[] = [];
  let shift = 0;
  for (const { 0: mark, index } of thin.text.matchAll(STAND_INS)) {
    const from = thin.text.lastIndexOf('\n', index) + 1;
    const to = thin.text.indexOf('\n', index) + 1;
    const entries: Entry[] = [];
    let at = from + shift;
    for (const lines of thin.lines.get(mark) ?? []) {
      let end = at;
      for (let line = lines; line > 0; line--) end = lineAfter(whole, end);
      entries.push(shownPart(whole, at, end));
      at = end;
    }
    shift = at - to;
    runs.push({ from, to, shift, entries });
  }
  const last = (offset: number) => {
    let [low, high] = [-1, runs.length - 1];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((runs[middle]?.from ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  return {
    text: thin.text,
    inWhole: (offset) => {
      const at = last(offset);
      const run = runs[at];
      return offset + ((run !== undefined && run.to <= offset ? run : runs[at - 1])?.shift ?? 0);
    },
    runAt: (offset) => (thin.text[offset] === MARK ? runs[last(offset)]?.entries : undefined),
  };
}

const STAND_INS = new RegExp(`${MARK}\\d+`, 'g');

/** Lines without the indent of the first, and without spaces and a line end behind the last. */
function shownPart(text: string, from: number, to: number): Entry {
  let [start, end] = [from, to];
  while (text[start] === ' ') start++;
  while (' \r\n'.includes(text[end - 1] ?? '.')) end--;
  return { start, end };
}
