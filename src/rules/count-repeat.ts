import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { countRepeatWords } from '../diagnostics/words/rules-harvest.ts';
import type { Count } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { asWritten, treeCrop } from './parts/grouped.ts';
import type { Rule } from './rule.ts';

export const countRepeat: Rule = { words: [countRepeatWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const firsts = new Map<string, Count>();
    for (const count of asWritten(season.counts)) {
      const key = `${count.on} ${treeCrop(count)}`;
      const first = firsts.get(key);
      if (first === undefined) {
        firsts.set(key, count);
        continue;
      }
      const { tree, on, crop } = count;
      const facts = { tree: tree.id, crop: ledger.trial.cropNames[crop], on };
      yield diagnose(countRepeatWords, count.at, facts, [
        { at: first.at, label: 'the first count' },
      ]);
    }
  }
}
