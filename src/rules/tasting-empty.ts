import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { tastingEmptyWords } from '../diagnostics/words/rules-tasting.ts';
import type { Sample } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const tastingEmpty: Rule = { words: [tastingEmptyWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    if (!isWholeSeason(ledger, season)) continue;
    for (const { at, on, samples, scores, words, orders } of season.tastings) {
      if (samples.length === 0 || [scores, words, orders].some((all) => all.length > 0)) continue;
      if (samples.some(isMeasured)) continue;
      yield diagnose(tastingEmptyWords, spotIn(at, 'on'), { on });
    }
  }
}

function isMeasured({ brix, eye }: Sample): boolean {
  return brix !== undefined || eye !== undefined;
}
