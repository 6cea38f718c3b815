import { nameLengthWords } from '../diagnostics/words/rules-names.ts';
import { bareName, nameRule } from './parts/name-form.ts';

const MOST_CHARACTERS = 30;

/** Spaces and the quotation marks around a name do not count. */
export const nameLength = nameRule(nameLengthWords, (name) => {
  const length = [...bareName(name).replace(/\s/gu, '')].length;
  return length > MOST_CHARACTERS ? { name, length } : undefined;
});
