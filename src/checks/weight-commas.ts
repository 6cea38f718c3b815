import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import type { Ledger } from '../model/ledger.ts';
import type { Rule } from './rule.ts';

const weightCommaWords = wording<{ written: string; first: string; second: string }>({
  rule: 'weight-comma',
  severity: 'warning',
  why: 'In a list a comma parts two weights, so that 39,5 is read as a fruit of 39 and one of 5. It is questioned where the other commas of the list have a blank behind them, or where fruit of one pick would differ fourfold (common practice, no source).',
  message: ({ written, first, second }) =>
    `${written} in a list is two weights, ${first} and ${second}`,
  advice: ({ first, second }) =>
    `write ${first}.${second} if that is meant, or ${first}, ${second} if they are two`,
});

export const weightComma: Rule = { words: [weightCommaWords], check: findWeightComma };

/** What is read does not tell how it was written, so the text of the file is looked at. */
function* findWeightComma({ seasons }: Ledger): Generator<Diagnostic> {
  for (const { at } of seasons) {
    const { text } = at.file;
    for (const list of text.matchAll(/\bweights:[ \t]*\[([^[\]#]*)\]/g)) {
      const line = text.slice(text.lastIndexOf('\n', list.index) + 1, list.index);
      if (line.includes('#')) continue;
      const inside = list[1] ?? '';
      const from = list.index + list[0].length - 1 - inside.length;
      const isSpaced = /,\s/.test(inside);
      for (const pair of inside.matchAll(/(?<![\d.])(\d+),(\d+)(?![\d.])/g)) {
        const [written, first = '', second = ''] = pair;
        const [one, other] = [Number(first), Number(second)];
        const isUnlike = Math.min(one, other) * 4 <= Math.max(one, other);
        if (!isSpaced && !isUnlike) continue;
        const start = from + pair.index;
        const span = { file: at.file, start, end: start + written.length };
        yield diagnose(weightCommaWords, span, { written, first, second });
      }
    }
  }
}
