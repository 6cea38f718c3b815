const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** "27 August" of `2026-08-27`; the text itself where it is no date. */
export function dayInWords(date: string): string {
  const found = /^\d{4}-(\d{2})-(\d{2})$/.exec(date);
  const month = MONTHS[Number(found?.[1]) - 1];
  return found === null || month === undefined ? date : `${Number(found[2])} ${month}`;
}

/** "27 Aug" of `2026-08-27`, for a narrow column. */
export function shortDay(date: string): string {
  return dayInWords(date).replace(/^(\d+ \p{L}{3})\p{L}*$/u, '$1');
}

/** "27 August 2026" of `2026-08-27`. */
export function dayAndYear(date: string): string {
  const words = dayInWords(date);
  return words === date ? date : `${words} ${date.slice(0, 4)}`;
}
