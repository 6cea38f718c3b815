import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { wordUnlistedWords } from '../diagnostics/words/rules-tasting.ts';
import type { Ledger } from '../model/ledger.ts';
import { plainWord } from '../model/plain-word.ts';
import { spotIn } from '../source/source-file.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const wordUnlisted: Rule = { words: [wordUnlistedWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { words: listed } = ledger.trial;
  if (listed.length === 0 || !areWhole(ledger, 'ledger.yaml')) return;
  const known = new Set(listed.map(plainWord));
  for (const { words } of ledger.seasons.flatMap(({ tastings }) => tastings)) {
    for (const one of words) {
      for (const [index, word] of one.words.entries()) {
        if (known.has(plainWord(word))) continue;
        const facts = { word, nearest: didYouMean(word, listed) };
        yield diagnose(wordUnlistedWords, spotIn(one.at, index), facts);
      }
    }
  }
}
