import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { treeDatesCrossedWords } from '../diagnostics/words/rules-dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const treeDatesCrossed: Rule = { words: [treeDatesCrossedWords], check };

const PAIRS = [
  ['received', 'planted'],
  ['received', 'removed'],
  ['planted', 'removed'],
] as const;

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const tree of ledger.trees.values()) {
    for (const [beforeKey, key] of PAIRS) {
      const before = tree[beforeKey];
      const date = tree[key];
      if (before === undefined || date === undefined) continue;
      if (date.latest >= before.earliest) continue;
      yield diagnose(treeDatesCrossedWords, spotIn(tree.at, key), {
        tree: tree.id,
        key,
        date: date.text,
        beforeKey,
        beforeDate: before.text,
      });
      // One crossed pair is enough to send the grower to the entry.
      break;
    }
  }
}
