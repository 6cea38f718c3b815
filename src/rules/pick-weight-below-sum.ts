import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickWeightBelowSumWords } from '../diagnostics/words/rules-harvest.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import { weightSum } from './parts/weight-sum.ts';
import type { Rule } from './rule.ts';

export const pickWeightBelowSum: Rule = { words: [pickWeightBelowSumWords], check };

function* check({ seasons, trial }: Ledger): Generator<Diagnostic> {
  for (const season of seasons) {
    for (const pick of season.picks) {
      const both = weightSum(pick);
      if (both === undefined || both.weight >= both.sum - both.slack) continue;
      yield diagnose(pickWeightBelowSumWords, spotIn(pick.at, 'weight'), {
        weight: quantityText(both.weight, 'weight', trial.units),
        sum: quantityText(both.sum, 'weight', trial.units),
      });
    }
  }
}
