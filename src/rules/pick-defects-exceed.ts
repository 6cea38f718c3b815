import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickDefectsExceedWords } from '../diagnostics/words/rules-harvest.ts';
import { DEFECTS } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const pickDefectsExceed: Rule = { words: [pickDefectsExceedWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const { at, fruit, defects } of season.picks) {
      const found = DEFECTS.filter((defect) => defects[defect] > 0);
      const total = found.reduce((sum, defect) => sum + defects[defect], 0);
      const last = found.at(-1);
      if (total <= fruit || last === undefined) continue;
      const parts = found.map((defect) => `${defect} ${defects[defect]}`).join(', ');
      yield diagnose(pickDefectsExceedWords, spotIn(at, last), { fruit, defects: total, parts });
    }
  }
}
