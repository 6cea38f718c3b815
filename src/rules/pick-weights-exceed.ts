import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickWeightsExceedWords } from '../diagnostics/words/rules-harvest.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const pickWeightsExceed: Rule = { words: [pickWeightsExceedWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const { at, fruit, weights } of season.picks) {
      if (weights.length <= fruit) continue;
      const facts = { fruit, weights: weights.length };
      yield diagnose(pickWeightsExceedWords, spotIn(at, 'fruit'), facts);
    }
  }
}
