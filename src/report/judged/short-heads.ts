const LONGEST = 5;
const SHORTEST = 3;

/**
 * Words cut to heads of narrow columns, "Sound" for "Soundness": five letters at most, less the
 * vowels that then end them, and as many more as part them from each other.
 */
export function shortHeads(words: readonly string[]): readonly string[] {
  return words.map((word) => {
    const lengths = Array.from({ length: word.length }, (_, at) => at + 1);
    const enough = lengths.find(
      (length) =>
        length >= Math.min(LONGEST, word.length) &&
        words.every((other) => other === word || !other.startsWith(word.slice(0, length))),
    );
    const head = word.slice(0, enough ?? word.length);
    if (head.length !== LONGEST || head === word) return head;
    const bare = head.replace(/[aeiou]+$/i, '');
    const isTold = words.every((other) => other === word || !other.startsWith(bare));
    return bare.length >= SHORTEST && isTold ? bare : head;
  });
}
