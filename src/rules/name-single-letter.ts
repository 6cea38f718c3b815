import { nameSingleLetterWords } from '../diagnostics/words/rules-names.ts';
import { bareName, nameRule } from './parts/name-form.ts';

export const nameSingleLetter = nameRule(nameSingleLetterWords, (name) =>
  /^\p{L}\p{M}*$/u.test(bareName(name)) ? { name } : undefined,
);
