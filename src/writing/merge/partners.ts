import { CATALOGUE, SECTIONS } from '../../entries/catalogue.ts';
import { EVENTS, type EventKind } from '../../entries/event-kinds.ts';
import type { Kind } from '../../entries/kind.ts';
import type { SeasonSection } from '../../model/ledger.ts';
import { type FileMap, isFileMap } from '../new-entry.ts';
import { renderFlow } from '../render-entry.ts';
import { plainText } from '../same-value.ts';
import type { Collection, VersionPart } from './part.ts';

/** By what the parts of a map or list are known again in another version. */
export type Likeness = 'key' | SeasonSection | 'samples' | 'words';

/** How the parts at a place are known again; undefined for a list that is one value, as weights are. */
export function likenessAt(
  path: readonly string[],
  kind: 'map' | 'list',
  season: boolean,
): Likeness | undefined {
  if (kind === 'map') return 'key';
  const [section] = path;
  if (season && path.length === 1) return SECTIONS.find((one) => one === section);
  if (season && path.join('.') === 'tastings.*.samples') return 'samples';
  return path.includes('words') || path.at(-1) === 'also' ? 'words' : undefined;
}

export interface Partners {
  /** What a part was in the version that both began with. */
  readonly before: ReadonlyMap<VersionPart, VersionPart>;
  /** The part of the first side that a part of the second side is the same as. */
  readonly twins: ReadonlyMap<VersionPart, VersionPart>;
}

/** Which parts of two sides and of what both began with are the same. */
export function partnersOf(
  likeness: Likeness,
  base: Collection | undefined,
  x: Collection,
  y: Collection,
  note: (text: string) => void,
): Partners {
  const ways = waysOf(likeness);
  const old = base?.parts ?? [];
  const before = new Map(
    [x, y].flatMap(({ parts }) => {
      const found = pairUp(ways, old, parts);
      return [...found, ...(isDated(likeness) ? pairAlike(found, old, parts) : [])];
    }),
  );
  const keptOf = new Map(
    x.parts.flatMap((part) => {
      const was = before.get(part);
      return was === undefined ? [] : [[was, part] as const];
    }),
  );
  const twins = new Map<VersionPart, VersionPart>();
  for (const part of y.parts) {
    const was = before.get(part);
    const kept = was === undefined ? undefined : keptOf.get(was);
    if (kept !== undefined) twins.set(part, kept);
  }
  const isNew = (part: VersionPart) => !before.has(part);
  const added = addedTwins(likeness, x.parts.filter(isNew), y.parts.filter(isNew), note);
  return { before, twins: new Map([...twins, ...added]) };
}

function isDated(likeness: Likeness): likeness is SeasonSection {
  return likeness !== 'key' && likeness !== 'samples' && likeness !== 'words';
}

type Way = (part: VersionPart) => string;

const exactly: Way = ({ value }) => plainText(value);

/** From the surest likeness to the loosest. */
function waysOf(likeness: Likeness): readonly Way[] {
  switch (likeness) {
    case 'key':
      return [({ pair }) => pair?.key.text ?? ''];
    case 'samples':
      return [({ value }) => labelIn(value)];
    case 'words':
      return [exactly];
    case 'tastings':
      return [exactly, plateKey, dateIn];
    default:
      return [exactly, entryKey];
  }
}

/** Parts of a list of parts, by the parts of another that are like them, each used once. */
function pairUp(
  ways: readonly Way[],
  old: readonly VersionPart[],
  made: readonly VersionPart[],
): Map<VersionPart, VersionPart> {
  const found = new Map<VersionPart, VersionPart>();
  const used = new Set<VersionPart>();
  for (const way of ways) {
    const open = new Map<string, VersionPart[]>();
    for (const part of old) {
      if (used.has(part)) continue;
      const key = way(part);
      const same = open.get(key);
      if (same === undefined) open.set(key, [part]);
      else same.push(part);
    }
    for (const part of made) {
      const next = found.has(part) ? undefined : open.get(way(part))?.shift();
      if (next === undefined) continue;
      found.set(part, next);
      used.add(next);
    }
  }
  return found;
}

/** Most pairs that are compared by what they say. */
const MOST_PAIRS = 10_000;

/**
 * Entries of which a day, a tree or the like was put right: of what is left, those that say mostly the
 * same as one that is gone.
 */
function pairAlike(
  found: ReadonlyMap<VersionPart, VersionPart>,
  old: readonly VersionPart[],
  made: readonly VersionPart[],
): ReadonlyMap<VersionPart, VersionPart> {
  const used = new Set(found.values());
  const [gone, come] = [old.filter((one) => !used.has(one)), made.filter((one) => !found.has(one))];
  const pairs = new Map<VersionPart, VersionPart>();
  if (gone.length * come.length > MOST_PAIRS) return pairs;
  for (const part of come) {
    const fitting = gone
      .filter((one) => ![...pairs.values()].includes(one))
      .map((one) => ({ one, likeness: alikeness(one.value, part.value) }))
      .sort((a, b) => b.likeness - a.likeness);
    const [best] = fitting;
    if (best !== undefined && best.likeness > 0) pairs.set(part, best.one);
  }
  return pairs;
}

/** Fields that say the same, less those that do not. */
function alikeness(one: unknown, other: unknown): number {
  if (!isFileMap(one) || !isFileMap(other)) return 0;
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  const same = keys.filter((key) => plainText(one[key]) === plainText(other[key])).length;
  return 2 * same - keys.length;
}

/** Whether an entry is about another day, tree or the like than it was. */
export function isAboutAnother(
  section: string | undefined,
  base: VersionPart,
  made: VersionPart,
): boolean {
  const way = section === 'tastings' ? dateIn : entryKey;
  return way(base) !== way(made);
}

/** Parts that both sides added, by which of them are one and the same. */
function addedTwins(
  likeness: Likeness,
  x: readonly VersionPart[],
  y: readonly VersionPart[],
  note: (text: string) => void,
): ReadonlyMap<VersionPart, VersionPart> {
  if (!isDated(likeness)) return pairUp(waysOf(likeness), x, y);
  const twins = pairUp([exactly], x, y);
  if (likeness === 'tastings') return sittingTwins(twins, x, y, note);
  for (const [part] of twins) {
    const how = howRepeated(likeness, part.value);
    if (how === 'twice') twins.delete(part);
    if (how !== 'said') note(`${likeness}: ${shortly(part)}: both sides added it; ${ADVICE[how]}`);
  }
  return twins;
}

const ADVICE = {
  once: 'it was taken for one, and stands there once; if there were two, enter the other one again',
  twice: 'it may be two, so it stands there twice; if it was one, delete one of them',
} as const;

/**
 * What it means that both sides added an equal entry. A count or a measurement said twice says no
 * more than said once. What is picked, dropped or taken off adds up: with weights or a note it
 * is one entry that was typed twice, since no two picks weigh the same to the last digit; a bare number
 * of fruit may well be two picks of a day, and none of them may be lost.
 */
function howRepeated(section: SeasonSection, value: unknown): 'said' | 'once' | 'twice' {
  const fields = isFileMap(value) ? value : {};
  if (!addsUp(section, fields)) return 'said';
  const told = ['weights', 'weight', 'note', 'photo'].some((key) => fields[key] !== undefined);
  return told ? 'once' : 'twice';
}

function addsUp(section: SeasonSection, fields: FileMap): boolean {
  const kind: Kind = CATALOGUE[section];
  const events: Readonly<Record<string, EventKind>> = EVENTS;
  const event = section === 'events' ? events[String(fields['kind'])] : undefined;
  return kind.addsUp === true || event?.addsUp === true;
}

/** Sittings that both sides began: of one day, if there is no other to be meant, with one set of plates. */
function sittingTwins(
  exact: Map<VersionPart, VersionPart>,
  x: readonly VersionPart[],
  y: readonly VersionPart[],
  note: (text: string) => void,
): ReadonlyMap<VersionPart, VersionPart> {
  const twins = new Map(exact);
  const taken = new Set(twins.values());
  for (const way of [plateKey, dateIn]) {
    for (const part of y) {
      if (twins.has(part)) continue;
      const mine = y.filter((one) => !twins.has(one) && way(one) === way(part));
      const theirs = x.filter((one) => !taken.has(one) && way(one) === way(part));
      const [other] = theirs;
      if (other === undefined || mine.length > 1 || theirs.length > 1) continue;
      if (labelsClash(part.value, other.value, undefined)) continue;
      twins.set(part, other);
      taken.add(other);
    }
  }
  for (const part of y) {
    const sameDay = x.some((one) => !taken.has(one) && dateIn(one) === dateIn(part));
    if (twins.has(part) || !sameDay) continue;
    note(
      `tastings: both sides added a sitting on ${dateIn(part)}, with other plates under the same labels or with more sittings that day; they stand apart`,
    );
  }
  return twins;
}

/** Whether a label stands for one plate in one version of a sitting and for another in the other. */
export function labelsClash(x: unknown, y: unknown, base: unknown): boolean {
  const [ours, theirs, old] = [platesOf(x), platesOf(y), platesOf(base)];
  return [...ours].some(([label, plate]) => {
    const other = theirs.get(label);
    const was = old.get(label);
    return other !== undefined && other !== plate && plate !== was && other !== was;
  });
}

/** What is on the plates of a sitting, by their labels. */
function platesOf(sitting: unknown): ReadonlyMap<string, string> {
  const samples: unknown = isFileMap(sitting) ? sitting['samples'] : undefined;
  const list: readonly unknown[] = Array.isArray(samples) ? samples : [];
  return new Map(
    list
      .filter(isFileMap)
      .map((one) => [labelIn(one), plainText([String(one['tree']), one['crop']])]),
  );
}

function labelIn(sample: unknown): string {
  return isFileMap(sample) ? String(sample['as'] ?? sample['tree']) : plainText(sample);
}

function plateKey(part: VersionPart): string {
  return `${dateIn(part)} ${plainText([...platesOf(part.value).keys()].sort())}`;
}

export function dateIn({ value }: VersionPart): string {
  return isFileMap(value) ? String(value['on']) : '';
}

/** What an entry is about: an entry of which this is changed is another one. */
export const ABOUT = ['on', 'tree', 'crop', 'kind', 'site'] as const;

function entryKey({ value }: VersionPart): string {
  return isFileMap(value) ? plainText(ABOUT.map((key) => value[key] ?? null)) : plainText(value);
}

function shortly({ value }: VersionPart): string {
  const text = renderFlow(value);
  return text.length > 100 ? `${text.slice(0, 97)}...` : text;
}
