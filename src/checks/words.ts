import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import type { Ledger } from '../model/ledger.ts';
import { plainWord } from '../model/plain-word.ts';
import { spotIn } from '../source/source-file.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

const wordUnlistedWords = wording<{ word: string; nearest: string | undefined }>({
  rule: 'word-unlisted',
  severity: 'hint',
  why: 'Words are counted by how they are spelled, so a slip of the pen is a word of its own. A new word is welcome.',
  message: ({ word }) => `${word} is not among the words of ledger.yaml`,
  advice: ({ nearest }) =>
    nearest === undefined
      ? 'add it to words in ledger.yaml, or leave it'
      : `did you mean ${nearest}? If not, add it to words in ledger.yaml`,
});

export const wordUnlisted: Rule = { words: [wordUnlistedWords], check: findWordUnlisted };

function* findWordUnlisted(ledger: Ledger): Generator<Diagnostic> {
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
