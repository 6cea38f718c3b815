import type { Selection } from '../../measure/selection.ts';
import { tasteWords } from '../../measure/taste-words.ts';
import type { Ledger } from '../../model/ledger.ts';
import { cropHeading } from '../crop-words.ts';
import { factsSection, type Section } from '../document.ts';
import { tasteWordsInShort } from '../taste-words-short.ts';

/** What tasters say it tastes of, crop by crop; absent where nobody had a word for it. */
export function wordsSection(ledger: Ledger, selection: Selection): Section | undefined {
  const told = tasteWords(ledger, selection);
  if (told.length === 0) return undefined;
  return factsSection({
    key: 'words',
    heading: 'What it tastes of',
    facts: told.map((one) => ({
      label: cropHeading(ledger, one.crop),
      text: tasteWordsInShort(one, 8),
    })),
    says: told.map(({ crop, tastings, words }) => ({
      crop,
      tastings,
      words: words.map((figures) => ({ ...figures })),
    })),
  });
}
