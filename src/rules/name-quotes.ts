import { nameQuotesWords } from '../diagnostics/words/rules-names.ts';
import { bareName, insideQuotes, nameRule } from './parts/name-form.ts';

export const nameQuotes = nameRule(nameQuotesWords, (name) =>
  insideQuotes(name) === undefined ? undefined : { name, bare: bareName(name) },
);
