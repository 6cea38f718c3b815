const WORDS = (
  'no one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen ' +
  'seventeen eighteen nineteen twenty'
).split(' ');

/** A number as it begins a sentence: "seventeen", and 21 in figures. */
export function numberWord(count: number): string {
  return WORDS[count] ?? String(count);
}
