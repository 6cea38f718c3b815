/** A value of a file as a person would say it, cut short where it is long. */
export function shownValue(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  if (typeof value === 'object') return 'a map';
  if (typeof value === 'string') return `the text "${cutShort(value)}"`;
  return String(value);
}

const MOST = 40;

/** The first 40 characters; a character of two code units is not torn apart. */
export function cutShort(text: string): string {
  if (text.length <= MOST) return text;
  return `${Array.from(text.slice(0, 2 * MOST))
    .slice(0, MOST)
    .join('')}...`;
}
