import { nameNumeralsWords } from '../diagnostics/words/rules-names.ts';
import { bareName, nameRule } from './parts/name-form.ts';

export const nameNumerals = nameRule(nameNumeralsWords, (name) =>
  /^[\p{N}\s]+$/u.test(bareName(name)) ? { name } : undefined,
);
