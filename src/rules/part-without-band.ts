import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { partWithoutBandWords } from '../diagnostics/words/rules-settings.ts';
import { type Ledger, MEASURED_PARTS } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const partWithoutBand: Rule = { words: [partWithoutBandWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { at, rank, scale } = ledger.trial;
  if (!areWhole(ledger, 'ledger.yaml')) return;
  for (const part of MEASURED_PARTS) {
    if ((rank.weights.get(part) ?? 0) === 0 || rank.bands.has(part)) continue;
    yield diagnose(partWithoutBandWords, spotIn(at, 'rank', 'weights', part), { part, ...scale });
  }
}
