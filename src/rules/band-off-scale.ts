import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { bandOffScaleWords } from '../diagnostics/words/rules-settings.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const bandOffScale: Rule = { words: [bandOffScaleWords], check };

function* check({ trial }: Ledger): Generator<Diagnostic> {
  const { low, high } = trial.scale;
  for (const [part, band] of trial.rank.bands) {
    for (const [index, [, value]] of band.entries()) {
      if (value >= low && value <= high) continue;
      const at = spotIn(trial.at, 'rank', 'bands', part, index, 1);
      yield diagnose(bandOffScaleWords, at, { part, value, low, high });
    }
  }
}
