import { SECTIONS } from '../../entries/catalogue.ts';
import { isFields } from '../new-entry.ts';
import type { Comment } from '../yaml-nodes.ts';
import { ABOUT } from './partners.ts';
import { plainText } from './plain-text.ts';

/** How often each thing is said in a file: a field of an entry, a mark, a comment. */
export type Account = ReadonlyMap<string, number>;

/**
 * Everything that a file says, thing by thing. An entry is called by what it is about, a sitting by
 * its day, a plate by its label; so a field that both sides changed in one entry is found in either.
 */
export function accountOf(value: unknown, comments: readonly Comment[], season: boolean): Account {
  const said = new Map<string, number>();
  const say = (thing: string) => said.set(thing, (said.get(thing) ?? 0) + 1);
  for (const comment of comments) say(comment.text);
  const fields = isFields(value) ? value : {};
  for (const [key, inner] of Object.entries(fields)) {
    const isSection = season && SECTIONS.some((section) => section === key);
    if (!isSection || !Array.isArray(inner)) sayValue(key, inner, say);
    else for (const entry of inner) sayEntry(key, entry, say);
  }
  return said;
}

function sayEntry(section: string, entry: unknown, say: (thing: string) => void): void {
  if (!isFields(entry)) {
    say(`${section} ${plainText(entry)}`);
    return;
  }
  const about = section === 'tastings' ? [entry['on']] : ABOUT.map((key) => entry[key] ?? null);
  const name = `${section} ${plainText(about)}`;
  say(name);
  for (const [key, value] of Object.entries(entry)) {
    const isPlates = section === 'tastings' && key === 'samples' && Array.isArray(value);
    if (!isPlates) sayValue(`${name}.${key}`, value, say);
    else {
      for (const plate of value) {
        const label = isFields(plate) ? String(plate['as'] ?? plate['tree']) : '';
        sayValue(`${name}.${key}.${label}`, plate, say);
      }
    }
  }
}

function sayValue(name: string, value: unknown, say: (thing: string) => void): void {
  if (isFields(value)) {
    for (const [key, inner] of Object.entries(value)) sayValue(`${name}.${key}`, inner, say);
    return;
  }
  const last = name.split('.').at(-1);
  const isWords = last === 'also' || name.includes('words');
  if (Array.isArray(value) && isWords) for (const word of value) sayValue(`${name}:`, word, say);
  // Nothing behind a key says nothing.
  else if (value !== null) say(`${name}=${plainText(value)}`);
}

/**
 * Something that the joined file does not say as often as both sides together do, if there is one:
 * what either side added must be there, what either took away must not. Where both did the same it
 * counts once or twice. Comments may be there once more than they must.
 */
export function miscounted(
  base: Account,
  ours: Account,
  theirs: Account,
  joined: Account,
): string | undefined {
  const things = new Set([base, ours, theirs, joined].flatMap((one) => [...one.keys()]));
  for (const thing of things) {
    const [was, mine, other, now] = [base, ours, theirs, joined].map((one) => one.get(thing) ?? 0);
    const [a, b] = [(mine ?? 0) - (was ?? 0), (other ?? 0) - (was ?? 0)];
    const both = Math.max(0, (was ?? 0) + a + b);
    const once = (was ?? 0) + (a > 0 ? Math.max(a, b) : Math.min(a, b));
    const alike = (a > 0 && b > 0) || (a < 0 && b < 0);
    const [least, most] = alike ? [Math.min(both, once), Math.max(both, once)] : [both, both];
    const isComment = thing.startsWith('#');
    if ((now ?? 0) < least || ((now ?? 0) > most && !isComment)) return thing;
  }
  return undefined;
}

/**
 * Something that a side added and that neither way of settling the conflicts would have, or something
 * that nobody touched and that is not there.
 */
export function lostInConflict(
  base: Account,
  sides: readonly { readonly said: Account; readonly settled: Account }[],
): string | undefined {
  for (const { said, settled } of sides) {
    for (const [thing, times] of said) {
      const was = base.get(thing) ?? 0;
      const others = sides.map((side) => side.said.get(thing) ?? 0);
      const must = times > was ? times : others.every((one) => one >= was) ? was : 0;
      if ((settled.get(thing) ?? 0) < must) return thing;
    }
  }
  return undefined;
}
