import { nameSuperlativeWords } from '../diagnostics/words/rules-names.ts';
import { nameRule, nameWords } from './parts/name-form.ts';

/** By list and not by ending: Forest, Harvest and West praise nothing. */
const SUPERLATIVES = new Set(
  `best biggest choicest earliest fairest finest greatest hardiest heaviest juiciest largest latest
   longest loveliest most prettiest richest smallest strongest sweetest tallest tastiest`.split(
    /\s+/,
  ),
);

export const nameSuperlative = nameRule(nameSuperlativeWords, (name) => {
  const word = nameWords(name).find((one) => SUPERLATIVES.has(one.toLowerCase()));
  return word === undefined ? undefined : { name, word };
});
