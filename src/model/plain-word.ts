/** A word of taste without what is mere spelling: capitals and blanks. */
export function plainWord(word: string): string {
  return word.trim().toLowerCase().replaceAll(/\s+/g, ' ');
}
