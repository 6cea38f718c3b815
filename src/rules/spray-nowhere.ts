import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { sprayNowhereWords } from '../diagnostics/words/rules-trees.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const sprayNowhere: Rule = { words: [sprayNowhereWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const { events } of ledger.seasons) {
    for (const event of events) {
      if (event.kind !== 'spray' || event.target.kind !== 'trial' || event.target.said) continue;
      yield diagnose(sprayNowhereWords, spotIn(event.at, 'kind'), { product: event.product });
    }
  }
}
