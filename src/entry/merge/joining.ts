import { SECTIONS } from '../../entries/catalogue.ts';
import { orderedKeys } from '../../entries/derive/key-order.ts';
import { SEASON_KEYS } from '../../entries/derive/season-schema.ts';
import type { Part } from './part.ts';
import { dayOf } from './partners.ts';
import { plainText } from './plain-text.ts';

/** What is known while two versions are joined. */
export interface Joining {
  /** Whether it is the file of a season. */
  readonly season: boolean;
  /** Keeps something that the person is to know, though nothing stands in the way. */
  note(text: string): void;
  /** How parts go that both sides added at one place. */
  orderAt(path: readonly string[]): (a: Part, b: Part) => number;
}

export function beginJoining(season: boolean, notes: Set<string>): Joining {
  return {
    season,
    note: (text) => {
      notes.add(text);
    },
    orderAt: (path) => (a, b) => {
      if (a.pair !== undefined && b.pair !== undefined) {
        const [one, other] = [a.pair.key.text, b.pair.key.text];
        return season ? bySeasonKeys(path, one, other) : byText(one, other);
      }
      return byText(dayOf(a), dayOf(b)) || byText(plainText(a.value), plainText(b.value));
    },
  };
}

/** Keys in the order in which a season file is written; others by the alphabet. */
function bySeasonKeys(path: readonly string[], one: string, other: string): number {
  const [first = ''] = path;
  const section = SECTIONS.find((name) => name === first);
  const order =
    path.length === 0
      ? SEASON_KEYS
      : section !== undefined && path.length === 2
        ? orderedKeys(section, { [one]: 1, [other]: 1 })
        : path.join('.') === 'tastings.*.samples.*'
          ? orderedKeys('samples', { [one]: 1, [other]: 1 })
          : [];
  return order.indexOf(one) - order.indexOf(other) || byText(one, other);
}

function byText(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
