import { nameGenusWords } from '../diagnostics/words/rules-names.ts';
import { nameRule, nameWords } from './parts/name-form.ts';

/** Botanical genera of fruit that are grown for trial by cultivar. */
const GENUS_OF = new Map([
  ['fig', 'Ficus'],
  ['apple', 'Malus'],
  ['pear', 'Pyrus'],
  ['quince', 'Cydonia'],
  ['raspberry', 'Rubus'],
  ['blackberry', 'Rubus'],
  ['strawberry', 'Fragaria'],
  ['grape', 'Vitis'],
]);

export const nameGenus = nameRule(nameGenusWords, (name, { trial }) => {
  const genus = GENUS_OF.get(trial.fruit.toLowerCase());
  if (genus === undefined) return undefined;
  const repeats = nameWords(name).some((word) => word.toLowerCase() === genus.toLowerCase());
  return repeats ? { name, genus } : undefined;
});
