import { nameCapitalWords } from '../diagnostics/words/rules-names.ts';
import { bareName, nameRule } from './parts/name-form.ts';

/** Only the first letter: which later words may be small differs between languages. */
export const nameCapital = nameRule(nameCapitalWords, (name) =>
  /^\p{Ll}/u.test(bareName(name)) ? { name } : undefined,
);
