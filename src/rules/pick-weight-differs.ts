import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickWeightDiffersWords } from '../diagnostics/words/rules-harvest.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import { weightSum } from './parts/weight-sum.ts';
import type { Rule } from './rule.ts';

/** A total above the sum of all single weights; one below it is `pick-weight-below-sum`. */
export const pickWeightDiffers: Rule = { words: [pickWeightDiffersWords], check };

function* check({ seasons, trial }: Ledger): Generator<Diagnostic> {
  for (const season of seasons) {
    for (const pick of season.picks) {
      const both = weightSum(pick);
      if (both === undefined || !both.allWeighed) continue;
      if (both.weight <= both.sum + both.slack) continue;
      yield diagnose(pickWeightDiffersWords, spotIn(pick.at, 'weight'), {
        weight: quantityText(both.weight, 'weight', trial.units),
        sum: quantityText(both.sum, 'weight', trial.units),
      });
    }
  }
}
