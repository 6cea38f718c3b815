import { SECTIONS } from '../../entries/catalogue.ts';
import { readYaml } from '../../reading/yaml-read.ts';
import { linesOf } from '../../source/unified-diff.ts';
import { isFileMap } from '../new-entry.ts';
import { plainText } from '../same-value.ts';
import { type Comment, commentsOf } from '../yaml-nodes.ts';
import { joinLines } from './join-lines.ts';
import { beginJoining, type Chunk, type Clash, isLineChunk } from './joining.ts';
import { rootCollection } from './part.ts';
import { ABOUT } from './partners.ts';
import {
  giveForm,
  isSeason,
  joinedForm,
  readVersion,
  type Side,
  takeForm,
  type Version,
} from './version.ts';

/** Three versions of a file as text; what is not there is empty. */
export interface Texts {
  /** What both sides began with. */
  readonly base: string;
  readonly ours: string;
  readonly theirs: string;
}

export interface MergedText {
  readonly text: string;
  /** Lines of the text, counted from 1, at which the two versions of a conflict begin. */
  readonly conflicts: readonly number[];
  /** Why the file was not joined entry by entry, where it was not. */
  readonly why: string | undefined;
  /** What was settled, and a person may want to look at. */
  readonly notes: readonly string[];
}

/**
 * Two versions of a ledger file as one, entry by entry: what one side added, changed or took away,
 * with the comments of both, every other line as it was. It does not matter which side is ours. Where
 * the sides contradict each other both versions of that entry stand between the marks of git.
 *
 * The result has been read again, and says everything that either side said; else, and where a version
 * cannot be read, the file is one conflict from the first line that differs to the last.
 *
 * @param path tells nothing but what the file is called in what is said of it
 */
export function mergeTexts(path: string, texts: Texts): MergedText {
  const { base, ours, theirs } = texts;
  const settled = ours === theirs || base === theirs ? ours : base === ours ? theirs : undefined;
  if (settled !== undefined) return { text: settled, conflicts: [], why: undefined, notes: [] };
  const [old, mine, other] = [base, ours, theirs].map(takeForm) as [Taken, Taken, Taken];
  const plain = (why: string): MergedText => ({ ...plainConflict(texts), why, notes: [] });
  const versions = {
    base: readVersion('base', path, old.lines),
    ours: readVersion('ours', path, mine.lines),
    theirs: readVersion('theirs', path, other.lines),
  };
  if (!areRead(versions)) {
    const [side] = (['ours', 'theirs', 'base'] as const).filter((one) => !versions[one]);
    return plain(`${WHOSE[side ?? 'base']} cannot be read as a map of entries`);
  }
  const form = joinedForm(old.form, mine.form, other.form);
  const all = [versions.base, versions.ours, versions.theirs];
  const season = isSeason(all);
  const notes = new Set<string>();
  const chunks = joinVersions(versions, season, notes);
  const clashes = chunks.filter((chunk) => !isLineChunk(chunk));
  const lost = lostThing(versions, season, chunks, (lines) => giveForm(lines, form));
  if (lost !== undefined) return plain(`joined, it would not say the same as both: ${lost}`);
  if (clashes.length === 0) {
    const text = giveForm(ended(linesAs(chunks, 'ours')), form);
    return { text, conflicts: [], why: undefined, notes: [...notes] };
  }
  const { lines, places } = marked(chunks);
  const text = giveForm(ended(lines), { ...form, lastEnd: true });
  return { text, conflicts: places, why: undefined, notes: [...notes] };
}

type Taken = ReturnType<typeof takeForm>;
type Three = Readonly<Record<Side, Version>>;

function areRead(versions: Readonly<Record<keyof Three, Version | undefined>>): versions is Three {
  return Object.values(versions).every((one) => one !== undefined);
}

const WHOSE = {
  ours: 'the version of this branch',
  theirs: 'the version that comes in',
  base: 'the version that both began with',
} as const;

function joinVersions(
  { base, ours, theirs }: Three,
  season: boolean,
  notes: Set<string>,
): readonly Chunk[] {
  // Told apart by what they say, so that either way round gives the same.
  const [x, y] = ours.text < theirs.text ? [ours, theirs] : [theirs, ours];
  const [old, mine, other] = [base, x, y].map(rootCollection) as [Tree, Tree, Tree];
  return joinLines(beginJoining(season, notes), [], 'map', old, mine, other);
}

type Tree = ReturnType<typeof rootCollection>;

/** What would be lost, doubled or made unreadable, if anything. */
function lostThing(
  { base, ours, theirs }: Three,
  season: boolean,
  chunks: readonly Chunk[],
  inForm: (lines: string) => string,
): string | undefined {
  const account = ({ value, comments }: Version) => accountOf(value, comments, season);
  const said = { base: account(base), ours: account(ours), theirs: account(theirs) };
  const settled = (side: keyof Clash): Account | string => {
    const text = inForm(ended(linesAs(chunks, side))).replace(/^\ufeff/, '');
    const { value, diagnostics } = readYaml({ path: 'the joined file', text, bom: false });
    const [problem] = diagnostics;
    if (problem !== undefined) return problem.message;
    return accountOf(value, commentsOf(text.replaceAll('\r\n', '\n')), season);
  };
  const mine = settled('ours');
  if (typeof mine === 'string') return mine;
  if (chunks.every(isLineChunk)) return miscounted(said.base, said.ours, said.theirs, mine);
  const other = settled('theirs');
  if (typeof other === 'string') return other;
  return lostInConflict(said.base, [
    { said: said.ours, settled: mine },
    { said: said.theirs, settled: other },
  ]);
}

/** The lines of the joined text, with one side of every clash. */
function linesAs(chunks: readonly Chunk[], side: keyof Clash): readonly string[] {
  return chunks.flatMap((chunk) => (isLineChunk(chunk) ? [chunk] : chunk[side]));
}

function ended(lines: readonly string[]): string {
  return lines.map((line) => `${line}\n`).join('');
}

/** Lines with the marks that git leaves where two versions do not go together. */
function marked(chunks: readonly Chunk[]) {
  const lines: string[] = [];
  const places: number[] = [];
  for (const chunk of chunks) {
    if (isLineChunk(chunk)) lines.push(chunk);
    else {
      places.push(lines.length + 1);
      lines.push('<<<<<<< ours', ...chunk.ours, '=======', ...chunk.theirs, '>>>>>>> theirs');
    }
  }
  return { lines, places };
}

/** One conflict, from the first line that differs to the last. */

export function plainConflict({ ours, theirs }: Pick<Texts, 'ours' | 'theirs'>) {
  const [mine, other] = [linesOf(ours), linesOf(theirs)];
  let head = 0;
  while (head < mine.length && head < other.length && mine[head] === other[head]) head++;
  let tail = 0;
  const room = Math.min(mine.length, other.length) - head;
  while (tail < room && mine.at(-1 - tail) === other.at(-1 - tail)) tail++;
  const end = /\r\n/.test(ours || theirs) ? '\r\n' : '\n';
  const within = (lines: readonly string[]) =>
    lines.slice(head, lines.length - tail).map((line) => (line.endsWith('\n') ? line : line + end));
  const text = [
    ...mine.slice(0, head),
    `<<<<<<< ours${end}`,
    ...within(mine),
    `=======${end}`,
    ...within(other),
    `>>>>>>> theirs${end}`,
    ...mine.slice(mine.length - tail),
  ].join('');
  return { text, conflicts: [head + 1] };
}

/** How often each thing is said in a file: a field of an entry, a mark, a comment. */
type Account = ReadonlyMap<string, number>;

/**
 * Everything that a file says, thing by thing. An entry is called by what it is about, a sitting by
 * its day, a plate by its label; so a field that both sides changed in one entry is found in either.
 */
function accountOf(value: unknown, comments: readonly Comment[], season: boolean): Account {
  const said = new Map<string, number>();
  const say = (thing: string) => said.set(thing, (said.get(thing) ?? 0) + 1);
  for (const comment of comments) say(comment.text);
  const fields = isFileMap(value) ? value : {};
  for (const [key, inner] of Object.entries(fields)) {
    const isSection = season && SECTIONS.some((section) => section === key);
    if (!isSection || !Array.isArray(inner)) sayValue(key, inner, say);
    else for (const entry of inner) sayEntry(key, entry, say);
  }
  return said;
}

function sayEntry(section: string, entry: unknown, say: (thing: string) => void): void {
  if (!isFileMap(entry)) {
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
        const label = isFileMap(plate) ? String(plate['as'] ?? plate['tree']) : '';
        sayValue(`${name}.${key}.${label}`, plate, say);
      }
    }
  }
}

function sayValue(name: string, value: unknown, say: (thing: string) => void): void {
  if (isFileMap(value)) {
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
function miscounted(
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
function lostInConflict(
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
