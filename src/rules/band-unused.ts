import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { bandUnusedWords } from '../diagnostics/words/rules-settings.ts';
import type { Ledger } from '../model/ledger.ts';
import { keyIn } from '../source/source-file.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const bandUnused: Rule = { words: [bandUnusedWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { at, rank } = ledger.trial;
  if (!areWhole(ledger, 'ledger.yaml')) return;
  for (const part of rank.bands.keys()) {
    if (rank.weights.has(part)) continue;
    yield diagnose(bandUnusedWords, keyIn(at, 'rank', 'bands', part), { part });
  }
}
