import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickRepeatWords } from '../diagnostics/words/rules-harvest.ts';
import type { Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { asWritten, treeCrop } from './parts/grouped.ts';
import type { Rule } from './rule.ts';

export const pickRepeat: Rule = { words: [pickRepeatWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const firsts = new Map<string, Pick[]>();
    for (const pick of asWritten(season.picks)) {
      const { tree, on, crop } = pick;
      const key = `${on} ${treeCrop(pick)}`;
      const thatDay = firsts.get(key);
      const first = thatDay?.find((other) => isSame(pick, other));
      if (first === undefined) {
        if (thatDay === undefined) firsts.set(key, [pick]);
        else thatDay.push(pick);
        continue;
      }
      const facts = { tree: tree.id, crop: ledger.trial.cropNames[crop], on };
      yield diagnose(pickRepeatWords, pick.at, facts, [{ at: first.at, label: 'the first one' }]);
    }
  }
}

function isSame(pick: Pick, other: Pick): boolean {
  return (
    pick.fruit === other.fruit &&
    pick.weight === other.weight &&
    pick.weights.length === other.weights.length &&
    pick.weights.every((weight, at) => weight === other.weights[at])
  );
}
