import { nameWordWords } from '../diagnostics/words/rules-names.ts';
import { nameRule, nameWords } from './parts/name-form.ts';

const NOT_IN_NAMES = new Set(
  `cultivar form grex group hybrid improved maintenance mixture selection series sport strain
   transformed variety`.split(/\s+/),
);

export const nameWord = nameRule(nameWordWords, (name) => {
  const words = nameWords(name).filter((word) => NOT_IN_NAMES.has(word.toLowerCase()));
  return words.length > 0 ? { name, words } : undefined;
});
