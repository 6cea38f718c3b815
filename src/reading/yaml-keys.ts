import { EVENT_ID, type Event } from 'js-yaml';

/** That an event is the key of a map, and where the map begins. */
export interface KeyPlace {
  readonly mapStart: number;
}

interface Open {
  /** Absent where what is open is no map. */
  readonly place: KeyPlace | undefined;
  keyComesNext: boolean;
}

/** Tells keys from values while the events of a file go by. */
export class KeyPlaces {
  readonly #open: Open[] = [];

  next(event: Event): KeyPlace | undefined {
    if (event.type === EVENT_ID.POP) {
      this.#open.pop();
      return undefined;
    }
    const parent = this.#open.at(-1);
    let key: KeyPlace | undefined;
    if (parent?.place !== undefined) {
      if (parent.keyComesNext) key = parent.place;
      parent.keyComesNext = !parent.keyComesNext;
    }
    if (event.type === EVENT_ID.MAPPING) {
      this.#open.push({ place: { mapStart: event.start }, keyComesNext: true });
    } else if (event.type === EVENT_ID.SEQUENCE) {
      this.#open.push({ place: undefined, keyComesNext: false });
    } else if (event.type === EVENT_ID.DOCUMENT) {
      this.#open.push({ place: undefined, keyComesNext: false });
    }
    return key;
  }
}

/**
 * Why a key would not come through as it stands in the file, or undefined if it does. Readers of
 * YAML turn `1.10` into 1.1 and `~` into null before they make a key of it, each in its own way;
 * and `__proto__` is a word that JavaScript objects treat apart, which libraries drop unseen.
 */
export function oddKey(text: string, plain: boolean): string | undefined {
  if (text === '__proto__') return 'another word';
  if (!plain) return undefined;
  if (/^(?:~|null|true|false)?$/i.test(text)) {
    return /^(?:null|true|false)$/.test(text) ? undefined : 'a word, in quotes if this is one';
  }
  const isNumber = /^[-+]?(?:\d+\.?\d*|\.\d+)$/.test(text);
  return isNumber && String(Number(text)) !== text ? 'number' : undefined;
}
