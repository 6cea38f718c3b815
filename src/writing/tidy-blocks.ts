import { isFields } from './new-entry.ts';
import { renderKey } from './render-scalar.ts';
import { isBlank, withoutRuns } from './text-lines.ts';

/** Column of the dashes of a section in canonical form. */
export const INDENT = 2;

/** An entry with the lines that go with it. */
export interface ItemBlock {
  readonly date: string;
  /** Comments and blank lines above it. */
  readonly lead: readonly string[];
  readonly body: readonly string[];
}

/** The lines of a section: its key, what stands at its head, its entries in date order. */
export function sectionOf(
  key: string,
  comment: string | undefined,
  head: readonly string[],
  blocks: readonly ItemBlock[],
): readonly string[] {
  const made = [...withoutRuns(head.map((line) => indented(line, INDENT)))];
  for (const { lead, body } of inDateOrder(blocks)) {
    for (const line of lead) {
      // No blank line right under the key, and no two in a row.
      if (!isBlank(line) || (made.length > 0 && !isBlank(made.at(-1)))) made.push(line);
    }
    made.push(...body);
  }
  const keyLine = `${renderKey(key)}:${comment === undefined ? '' : `  ${comment}`}`;
  return [keyLine, ...(isBlank(made[0]) ? made.slice(1) : made)];
}

export function indented(line: string, indent: number): string {
  return isBlank(line) ? '' : ' '.repeat(indent) + line.trim();
}

/** The date of an entry, or nothing where it has none that can be read. */
export function dateOf(value: unknown): string {
  const date: unknown = isFields(value) ? value['on'] : undefined;
  return typeof date === 'string' && /^\d{4}-\d\d-\d\d$/.test(date) ? date : '';
}

/** By date, equal dates as they stood; one without a date stays behind the one before it. */
export function inDateOrder<Dated extends { readonly date: string }>(
  list: readonly Dated[],
): readonly Dated[] {
  let before = '';
  const dated = list.map((one) => {
    if (one.date !== '') before = one.date;
    return { one, date: before };
  });
  return dated
    .sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
    .map(({ one }) => one);
}
