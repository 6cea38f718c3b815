import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickRepeatWords } from '../diagnostics/words/rules-harvest.ts';
import type { Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { treeCrop } from './parts/grouped.ts';
import type { Rule } from './rule.ts';

export const pickRepeat: Rule = { words: [pickRepeatWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const firsts = new Map<string, Pick>();
    for (const pick of season.picks) {
      const { tree, on, crop, fruit, weight, weights } = pick;
      const key = `${on} ${fruit} ${weight} ${weights.join(' ')} ${treeCrop(pick)}`;
      const first = firsts.get(key);
      if (first === undefined) {
        firsts.set(key, pick);
        continue;
      }
      const facts = { tree: tree.id, crop: ledger.trial.cropNames[crop], on };
      yield diagnose(pickRepeatWords, pick.at, facts, [{ at: first.at, label: 'the first one' }]);
    }
  }
}
