const WORDS = (
  'no one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen ' +
  'seventeen eighteen nineteen twenty'
).split(' ');

/** A number as it begins a sentence: "seventeen", and 21 in figures. */
export function numberWord(count: number): string {
  return WORDS[count] ?? String(count);
}

/** "p 0.21", "p 0.034", "p below 0.001". */
export function chanceWords(p: number): string {
  return p < 0.001 ? 'p below 0.001' : `p ${decimalText(p, p < 0.1 ? 3 : 2)}`;
}

/**
 * A chance as people say it: "7 in 10", "more than 9 in 10". Never all of ten, which would be a
 * promise, and never none.
 *
 * @param chance a fraction
 */
export function inTenths(chance: number): string {
  if (chance >= 0.95) return 'more than 9 in 10';
  if (chance < 0.05) return 'less than 1 in 10';
  return `${Math.max(1, Math.round(10 * chance))} in 10`;
}

/**
 * `value` times ten to the `shift`, with so many decimals, halves away from zero, never `-0`.
 *
 * Rounds the shortest decimal that stands for the number, as a person with the printed figures
 * would: 201 fruit on 200 branches are 1.01 a branch, where `toFixed` makes 1.00 of 1.005. The
 * same as `Intl.NumberFormat`, which takes longer to start than the rest of a report.
 */
export function decimalText(value: number, digits: number, shift = 0): string {
  const scaled = Math.round(timesTen(Math.abs(value), digits + shift));
  if (scaled > Number.MAX_SAFE_INTEGER) return timesTen(value, shift).toFixed(digits);
  const figures = String(scaled).padStart(digits + 1, '0');
  const whole = figures.slice(0, figures.length - digits);
  const sign = value < 0 && scaled > 0 ? '-' : '';
  return digits === 0 ? sign + whole : `${sign}${whole}.${figures.slice(-digits)}`;
}

/** Moves the decimal point without a rounding step in between. */
function timesTen(value: number, power: number): number {
  const [figures = '0', exponent = '0'] = String(value).split('e');
  return Number(`${figures}e${Number(exponent) + power}`);
}
