/** "1 tree", "3 trees"; a noun that stays as it is in the plural gives both forms. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "A", "A and B", "A, B and C"; past `most` names "A, B and 4 more". */
export function listed(names: readonly string[], most = 6): string {
  if (names.length > most) {
    return `${names.slice(0, most).join(', ')} and ${names.length - most} more`;
  }
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

/** "tree D1", "trees D1 and D2". */
export function namedAs(what: string, names: readonly string[]): string {
  return `${what}${names.length === 1 ? '' : 's'} ${listed(names)}`;
}

/** "2026", "2024 to 2026" for years on end, "2022, 2024" for others. */
export function yearsInWords(years: readonly number[], to = ' to '): string {
  const rising = [...new Set(years)].toSorted((a, b) => a - b);
  const first = rising[0];
  const last = rising.at(-1);
  if (first === undefined || last === undefined) return '';
  if (rising.length === 1) return String(first);
  return last - first === rising.length - 1 ? `${first}${to}${last}` : rising.join(', ');
}

/** A sentence begins with a capital, whatever it begins with. */
export function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}
