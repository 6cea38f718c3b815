import type { CropWords } from '../measure/taste-words.ts';

/**
 * What a crop of a cultivar tastes of, in a few words: "melon (5 of 8 tastings), fresh". A word that
 * was said once tells little beside one that was said often, and is left out there.
 *
 * @param most words at most
 */
export function tasteWordsInShort({ words, tastings }: CropWords, most = 4): string {
  const [first] = words;
  if (first === undefined) return '';
  const telling = words.filter(({ times }) => first.times < 3 || times > 1).slice(0, most);
  return telling
    .map(({ word, times }, place) =>
      place === 0 && times > 1 ? `${word} (${times} of ${tastings} tastings)` : word,
    )
    .join(', ');
}
