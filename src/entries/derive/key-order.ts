import type { SeasonSection } from '../../model/ledger.ts';
import { CATALOGUE } from '../catalogue.ts';
import { MOVE_KEYS } from '../event.ts';
import type { Fields } from '../field.ts';
import { sample } from '../tasting.ts';

/** What takes lines of its own stands below what does not. */
function keysOf(fields: Fields): readonly string[] {
  const isLong = (key: string) => fields[key]?.holds.kind === 'lines';
  const keys = Object.keys(fields);
  return [...keys.filter((key) => !isLong(key)), ...keys.filter(isLong)];
}

/** Keys of an entry in the order in which they are written; keys nobody knows come last. */
export function orderedKeys(
  kind: SeasonSection | 'samples',
  entry: Readonly<Record<string, unknown>>,
): readonly string[] {
  const { fields } = kind === 'samples' ? sample : CATALOGUE[kind];
  const order = kind === 'events' && entry['kind'] === 'move' ? MOVE_KEYS : keysOf(fields);
  const present = Object.keys(entry).filter((key) => entry[key] !== undefined);
  const rank = (key: string) => (order.includes(key) ? order.indexOf(key) : order.length);
  return present.sort((a, b) => rank(a) - rank(b));
}
