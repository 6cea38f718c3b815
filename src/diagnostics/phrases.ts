/** Names in a sentence: `a`, `a and b`, `a, b and c`. */
export function namesInWords(names: readonly (string | number)[]): string {
  const last = names.at(-1);
  if (last === undefined) return '';
  return names.length === 1 ? String(last) : `${names.slice(0, -1).join(', ')} and ${last}`;
}

/** `1 day`, `3 days`. */
export function dayCount(days: number): string {
  return days === 1 ? '1 day' : `${days} days`;
}
