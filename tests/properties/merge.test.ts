import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parse as parseYaml } from 'yaml';
import { readYaml } from '../../src/reading/yaml-read.ts';
import { mergeTexts, type Texts } from '../../src/writing/merge/merge-texts.ts';
import type { NewEntry } from '../../src/writing/new-entry.ts';
import { placeEntries } from '../../src/writing/place-entries.ts';
import { RUNS } from '../support/property-runs.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';
import { seasonText, seasonTextArb } from './season-text.ts';

const PATH = 'seasons/2026.yaml';
type Season = Readonly<Record<string, readonly unknown[] | undefined>>;

function read(text: string): Season {
  const value: unknown = parseYaml(text.replace(/^\ufeff/, ''), { schema: 'core' });
  return (value ?? {}) as Season;
}

/** Entries of a section, each as text, in an order of their own. */
function sorted(list: readonly unknown[] | undefined): readonly string[] {
  return (Array.isArray(list) ? list : []).map((one) => JSON.stringify(one)).sort();
}

function linesOf(text: string): readonly string[] {
  return text.replace(/^\ufeff/, '').split(/\r?\n/);
}

/** Merged either way round, which must give the same but for whose side is whose. */
function merged(texts: Texts) {
  const one = mergeTexts(PATH, texts);
  const other = mergeTexts(PATH, { ...texts, ours: texts.theirs, theirs: texts.ours });
  expect(settled(other.text, 'theirs')).toBe(settled(one.text, 'ours'));
  expect(settled(other.text, 'ours')).toBe(settled(one.text, 'theirs'));
  expect(other.notes).toEqual(one.notes);
  return one;
}

/** A text with one side of every conflict. */
function settled(text: string, side: 'ours' | 'theirs'): string {
  const kept = side === 'ours' ? '$1' : '$2';
  return text.replace(
    /^<{7} ours\r?\n([\s\S]*?)^={7}\r?\n([\s\S]*?)^>{7} theirs(?:\r?\n|$)/gm,
    kept,
  );
}

const day = fc.integer({ min: 1, max: 12 }).map((n) => `2026-07-${String(n).padStart(2, '0')}`);
const tree = fc.constantFrom('G3', 'Y1');
const newEntry: fc.Arbitrary<NewEntry> = fc.oneof(
  fc.record({ on: day, tree, fruit: fc.nat(3) }).map(({ on, tree, fruit }) => ({
    section: 'picks' as const,
    entry: { on, tree, crop: 'early', fruit },
  })),
  fc
    .record({ on: day, tree, weights: fc.array(fc.nat(2), { minLength: 1, maxLength: 2 }) })
    .map(({ on, tree, weights }) => ({
      section: 'picks' as const,
      entry: { on, tree, crop: 'early', weights },
    })),
  fc.record({ on: day, tree, fruit: fc.nat(1) }).map(({ on, tree, fruit }) => ({
    section: 'counts' as const,
    entry: { on, tree, crop: 'main', fruit },
  })),
  day.map((on) => ({ section: 'events' as const, entry: { on, kind: 'water' as const } })),
);
const entries = fc.array(newEntry, { maxLength: 4 });

/** What both lists add together: an equal one once, unless it is a pick that was counted alone. */
function together(ours: readonly NewEntry[], theirs: readonly NewEntry[]): readonly NewEntry[] {
  const left = [...ours];
  const more = theirs.filter((one) => {
    const same = left.findIndex((other) => JSON.stringify(other) === JSON.stringify(one));
    if (same < 0) return true;
    left.splice(same, 1);
    return one.section === 'picks' && one.entry.weights === undefined;
  });
  return [...ours, ...more];
}

test('lists of entries added on either side are all there, once, in a file of any style', () => {
  let joined = 0;
  fc.assert(
    fc.property(seasonTextArb, entries, entries, (style, a, b) => {
      const base = seasonText(style);
      const file = { path: PATH, text: base, bom: false };
      fc.pre(readYaml(file).diagnostics.length === 0 && a.length > 0 && b.length > 0);
      const sides = [a, b].map((list) => placeEntries(file, list));
      const [ours = base, theirs = base] = sides.map((side) =>
        side.kind === 'placed' ? side.file.text : base,
      );
      fc.pre(ours !== base && theirs !== base && ours !== theirs);
      const bom = style.bom ? '\ufeff' : '';
      const texts = { base: bom + base, ours: bom + ours, theirs: bom + theirs };
      const { text, conflicts, why } = merged(texts);
      expect({ conflicts, why }).toEqual({ conflicts: [], why: undefined });
      joined++;
      const [before, after] = [read(base), read(text)];
      const added = together(a, b);
      for (const section of ['counts', 'picks', 'drops', 'tastings', 'growth', 'events']) {
        const own = added.filter((one) => one.section === section).map(({ entry }) => entry);
        const old = Array.isArray(before[section]) ? before[section] : [];
        expect(sorted(after[section])).toEqual(sorted([...old, ...own]));
      }
      // What neither touched is there still, byte by byte.
      for (const line of linesOf(base)) {
        const isKept = linesOf(ours).includes(line) && linesOf(theirs).includes(line);
        if (isKept) expect(linesOf(text)).toContain(line);
      }
      expect(text.startsWith('\ufeff')).toBe(style.bom);
      if (style.eol === '\r\n') expect(text).not.toMatch(/[^\r]\n/);
      if (style.eol === '\n') expect(text).not.toContain('\r');
    }),
    { numRuns: RUNS / 2 },
  );
  expect(joined).toBeGreaterThan(RUNS / 4);
});

interface Fate {
  /** What each side did with an entry: nothing, took it away, or gave its fruit a new number. */
  readonly ours: 'kept' | 'gone' | number;
  readonly theirs: 'kept' | 'gone' | number;
  readonly day: number;
  readonly lines: boolean;
  readonly comment: boolean;
}

const fate = fc.oneof(
  { weight: 3, arbitrary: fc.constant('kept' as const) },
  { weight: 1, arbitrary: fc.constant('gone' as const) },
  { weight: 1, arbitrary: fc.integer({ min: 1, max: 2 }) },
);
const fates = fc.array(
  fc.record({
    ours: fate,
    theirs: fate,
    day: fc.integer({ min: 1, max: 20 }),
    lines: fc.boolean(),
    comment: fc.boolean(),
  }),
  { minLength: 1, maxLength: 6 },
);

function listed(list: readonly Fate[], fruitOf: (one: Fate, at: number) => number | undefined) {
  const lines = list.flatMap((one, at) => {
    const fruit = fruitOf(one, at);
    if (fruit === undefined) return [];
    const above = one.comment ? [`  # of tree T${at}`] : [];
    const on = `on: 2026-07-${String(one.day).padStart(2, '0')}`;
    const pairs = [on, `tree: T${at}`, 'crop: main', `fruit: ${fruit}`];
    const item = one.lines
      ? pairs.map((pair, place) => `  ${place === 0 ? '-' : ' '} ${pair}`)
      : [`  - { ${pairs.join(', ')} }`];
    return [...above, ...item];
  });
  return ['season: 2026', '', 'picks:', ...lines, ''].join('\n');
}

function fruitOn(side: 'ours' | 'theirs') {
  return (one: Fate): number | undefined => {
    const what = one[side];
    return what === 'gone' ? undefined : what === 'kept' ? 9 : what;
  };
}

test('what was changed or removed on one side is so in the end, and what contradicts is asked', () => {
  let asked = 0;
  fc.assert(
    fc.property(fates, (list) => {
      const base = listed(list, () => 9);
      const ours = listed(list, fruitOn('ours'));
      const theirs = listed(list, fruitOn('theirs'));
      const { text, conflicts, why } = merged({ base, ours, theirs });
      expect(why).toBeUndefined();
      const clashing = list.filter(
        (one) => one.ours !== one.theirs && one.ours !== 'kept' && one.theirs !== 'kept',
      );
      expect(conflicts).toHaveLength(clashing.length);
      asked += clashing.length;
      for (const side of ['ours', 'theirs'] as const) {
        const wanted = list.flatMap((one, at) => {
          const fruit = clashing.includes(one)
            ? fruitOn(side)(one)
            : (fruitOn(one.ours === 'kept' ? 'theirs' : 'ours')(one) ?? undefined);
          return fruit === undefined ? [] : [`T${at} ${fruit}`];
        });
        const picks = (read(settled(text, side))['picks'] ?? []) as {
          tree: string;
          fruit: number;
        }[];
        expect(picks.map(({ tree, fruit }) => `${tree} ${fruit}`)).toEqual(wanted);
      }
    }),
    { numRuns: RUNS },
  );
  expect(asked).toBeGreaterThan(RUNS / 20);
});

const mark = fc.record({
  taster: fc.constantFrom('mara', 'joss', 'odo'),
  plate: fc.constantFrom('G3', 'Y1', 'P2'),
  trait: fc.constantFrom('sweetness', 'flavour'),
  score: fc.integer({ min: 5, max: 6 }),
});
type Mark = typeof mark extends fc.Arbitrary<infer One> ? One : never;

function placeOf({ taster, plate, trait }: Mark): string {
  return `${taster} ${plate} ${trait}`;
}

/** One mark for each taster, plate and trait. */
const sheet = fc.uniqueArray(mark, { selector: placeOf, maxLength: 8 });

function sittingText(marks: readonly Mark[], form: 'lines' | 'brackets'): string {
  const plates = [...new Set(marks.map(({ plate }) => plate))];
  const lines = ['season: 2026', 'tastings:', '  - on: 2026-07-24', '    samples:'];
  lines.push(...plates.map((plate) => `      - { tree: ${plate}, crop: early }`));
  if (plates.length === 0) lines[3] = '    samples: []';
  if (marks.length > 0) lines.push('    scores:');
  for (const taster of new Set(marks.map((one) => one.taster))) {
    const own = marks.filter((one) => one.taster === taster);
    const ownPlates = [...new Set(own.map(({ plate }) => plate))].map((plate) => {
      const scores = own.filter((one) => one.plate === plate);
      return `${plate}: { ${scores.map(({ trait, score }) => `${trait}: ${score}`).join(', ')} }`;
    });
    if (form === 'brackets') lines.push(`      ${taster}: { ${ownPlates.join(', ')} }`);
    else lines.push(`      ${taster}:`, ...ownPlates.map((one) => `        ${one}`));
  }
  return `${lines.join('\n')}\n`;
}

test('marks of one sitting go together by taster, plate and trait', () => {
  const form = fc.constantFrom('lines' as const, 'brackets' as const);
  fc.assert(
    fc.property(sheet, sheet, sheet, form, form, fc.boolean(), (old, a, b, one, other, isNew) => {
      const before = isNew ? [] : old;
      const known = new Set(before.map(placeOf));
      const [mine, theirs] = [a, b].map((list) => list.filter((mark) => !known.has(placeOf(mark))));
      const base = isNew ? 'season: 2026\n' : sittingText(before, one);
      const { text, conflicts, why } = merged({
        base,
        ours: sittingText([...before, ...(mine ?? [])], one),
        theirs: sittingText([...before, ...(theirs ?? [])], isNew ? other : one),
      });
      expect(why).toBeUndefined();
      const clash = (mine ?? []).filter((mark) =>
        (theirs ?? []).some((two) => placeOf(two) === placeOf(mark) && two.score !== mark.score),
      );
      expect(conflicts.length > 0).toBe(clash.length > 0);
      const marksIn = (side: 'ours' | 'theirs') => {
        const [sitting] = (read(settled(text, side))['tastings'] ?? []) as {
          scores?: Record<string, Record<string, Record<string, number>>>;
        }[];
        return Object.entries(sitting?.scores ?? {}).flatMap(([taster, plates]) =>
          Object.entries(plates).flatMap(([plate, scores]) =>
            Object.entries(scores).map(([trait, score]) => `${taster} ${plate} ${trait} ${score}`),
          ),
        );
      };
      const textOf = (mark: Mark) => `${placeOf(mark)} ${mark.score}`;
      if (clash.length === 0) {
        const all = new Set([...before, ...(mine ?? []), ...(theirs ?? [])].map(textOf));
        expect(marksIn('ours').toSorted()).toEqual([...all].sort());
      } else {
        expect(marksIn('ours')).toEqual(
          expect.arrayContaining([...before, ...(mine ?? [])].map(textOf)),
        );
        expect(marksIn('theirs')).toEqual(
          expect.arrayContaining([...before, ...(theirs ?? [])].map(textOf)),
        );
      }
    }),
    { numRuns: RUNS },
  );
});

interface Slip {
  readonly kind: 'delete' | 'comment' | 'digit' | 'twice' | 'blank' | 'word';
  readonly line: number;
}

const slips = fc.array(
  fc.record({
    kind: fc.constantFrom<Slip['kind']>('delete', 'comment', 'digit', 'twice', 'blank', 'word'),
    line: fc.nat(60),
  }),
  { minLength: 1, maxLength: 4 },
);

function slipped(text: string, list: readonly Slip[], who: string): string {
  const lines = text.split('\n');
  for (const [index, { kind, line }] of list.entries()) {
    const at = line % lines.length;
    const old = lines[at] ?? '';
    const indent = ' '.repeat(old.length - old.trimStart().length);
    if (kind === 'delete') lines.splice(at, 1);
    else if (kind === 'comment') lines.splice(at, 0, `${indent}# ${who} ${index}`);
    else if (kind === 'blank') lines.splice(at, 0, '');
    else if (kind === 'twice') lines.splice(at, 0, old.replace(/\d(?=\D*$)/, '7'));
    else if (kind === 'digit') lines[at] = old.replace(/\d(?=\D*$)/, who === 'mara' ? '8' : '9');
    else lines[at] = old.replace(/ \}$/, `, note: by ${who} }`);
  }
  return lines.join('\n');
}

test('whatever two people do to a file, no comment of either is lost and both ways round agree', () => {
  const files = Object.entries(SMALL_EXAMPLE).filter(([path]) => path.endsWith('.yaml'));
  let joined = 0;
  fc.assert(
    fc.property(fc.constantFrom(...files), slips, slips, ([, base], a, b) => {
      const ours = slipped(base, a, 'mara');
      const theirs = slipped(base, b, 'joss');
      const { text, conflicts, why } = merged({ base, ours, theirs });
      if (why === undefined) joined++;
      for (const [side, version] of [
        ['ours', ours],
        ['theirs', theirs],
      ] as const) {
        const result = settled(text, side);
        for (const [comment] of version.matchAll(/# (?:mara|joss) \d/g)) {
          expect(result).toContain(comment);
        }
        const isRead = (one: string) =>
          readYaml({ path: PATH, text: one, bom: false }).diagnostics.length === 0;
        if (isRead(ours) && isRead(theirs)) expect(isRead(result)).toBe(true);
        if (conflicts.length === 0) expect(isRead(result) || why === undefined).toBe(true);
      }
    }),
    { numRuns: RUNS / 2 },
  );
  expect(joined).toBeGreaterThan(RUNS / 4);
});
