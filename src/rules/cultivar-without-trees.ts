import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { cultivarWithoutTreesWords } from '../diagnostics/words/rules-names.ts';
import type { Ledger } from '../model/ledger.ts';
import { keyIn } from '../source/source-file.ts';
import { plantedCultivars } from './parts/planted-cultivars.ts';
import type { Rule } from './rule.ts';

export const cultivarWithoutTrees: Rule = { words: [cultivarWithoutTreesWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const planted = plantedCultivars(ledger);
  if (planted === undefined) return;
  for (const { at, key } of ledger.cultivars.values()) {
    if (!planted.has(key)) yield diagnose(cultivarWithoutTreesWords, keyIn(at), { key });
  }
}
