import { nameMarksWords } from '../diagnostics/words/rules-names.ts';
import { bareName, nameRule } from './parts/name-form.ts';

const FORBIDDEN = /[^\p{L}\p{M}\p{Nd}\s'’,!.\-‐/\\]/gu;

export const nameMarks = nameRule(nameMarksWords, (name) => {
  const marks = forbiddenMarks(bareName(name));
  return marks.length > 0 ? { name, marks } : undefined;
});

function forbiddenMarks(name: string): readonly string[] {
  const marks = [...new Set(name.match(FORBIDDEN) ?? [])];
  const fraction = /\d+\/\d+/u.exec(name);
  if (fraction !== null) marks.push(`the fraction ${fraction[0]}`);
  if (name.includes('!!')) marks.push('!!');
  else if (name.split('!').length > 3) marks.push('more than two exclamation marks');
  return marks;
}
