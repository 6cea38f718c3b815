import fc from 'fast-check';
import { expect, test } from 'vitest';
import { isSeasonEntry } from '../../src/writing/listing.ts';
import { placeEntries } from '../../src/writing/place-entries.ts';
import { completions } from '../../src/writing/shorthand/completions.ts';
import { SHORTHAND } from '../../src/writing/shorthand/help.ts';
import { answered, beginSession, readLine } from '../../src/writing/shorthand/read-line.ts';
import { day, entryLedger } from '../support/entry-ledger.ts';
import { RUNS } from '../support/property-runs.ts';

const ledger = entryLedger();
const words = [
  ...SHORTHAND.flatMap(({ example }) => example.split(' ')),
  ...[
    '52,4',
    '52,47',
    '1,234',
    '5/6',
    '-3',
    'G33',
    'amber',
    'weight',
    'order',
    '>',
    '=',
    '#',
    'note',
    '2.1',
    'oz',
    '8,5',
    '7½',
    '20/6',
    '-',
    'mara:',
    'joss,',
    'words',
    'greenhouse',
    'Amber',
    'Lantern',
    '"wild',
    'honey"',
    'last',
    'Friday',
  ],
];
const unclear = [
  'pick Y1 40 52.1',
  'pick amber early 52,47',
  'pick G3 early fruit 3 weight 1,234',
  'taste Y1 sweetness 8 flavour 7',
  'order mara Y1 > G4 = P2',
  'order early G3>Y1',
  'on 5/6 count Y1 3 on 2',
  'water yrad note dry',
  'taste G3 early: mara 8 9',
  'taste G3 early: mara 8 9,7, joss 7 7 7',
  'taste Y1: 8 9 7 words melon fresh, tea',
  'G3 early 41 38 44 split',
  'tree A2 amber planted 2021',
  'site plot far plot',
  'taste Amber Lantern early: mara 5 5 5',
];
const line = fc.oneof(
  fc
    .tuple(fc.constantFrom(...unclear), fc.constantFrom('', ...words), fc.nat(8))
    .map(([text, word, at]) =>
      text
        .split(' ')
        .toSpliced(at, word === '' ? 0 : 1, word)
        .join(' '),
    ),
  fc.array(fc.constantFrom(...words), { maxLength: 10 }).map((list) => list.join(' ')),
  fc
    .tuple(
      fc.constantFrom(...SHORTHAND.map(({ example }) => example)),
      fc.constantFrom(...words),
      fc.nat(8),
    )
    .map(([example, word, at]) => example.split(' ').toSpliced(at, 1, word).join(' ')),
  fc.string({ unit: 'grapheme', maxLength: 40 }),
);

test('any line is understood, asked about or marked, and what is understood can be placed', () => {
  const empty = { path: 'seasons/2026.yaml', text: 'season: 2026\n', bom: false };
  let understood = 0;
  let asked = 0;
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 3 }), (lines) => {
      let session = beginSession(day('2026-07-24'));
      for (const one of lines) {
        const read = readLine(one, session, ledger);
        for (const { start, end, message } of [...read.slips, ...read.questions]) {
          expect(start).toBeGreaterThanOrEqual(0);
          expect(end).toBeGreaterThanOrEqual(start);
          expect(end).toBeLessThanOrEqual(one.length + 1);
          expect(message).not.toMatch(/undefined|NaN|\[object/);
        }
        expect(read.understood.join()).not.toMatch(/undefined|NaN|\[object/);
        if (read.slips.length > 0 || read.questions.length > 0) {
          expect(read.session).toBe(session);
        } else if (read.entries.length > 0) {
          understood++;
          const placed = placeEntries(empty, read.entries.filter(isSeasonEntry));
          expect([one, placed.kind]).toEqual([one, 'placed']);
        }
        for (const question of read.slips.length === 0 ? read.questions.slice(0, 1) : []) {
          asked++;
          for (const answer of question.answers) {
            const again = readLine(answered(one, question, answer), session, ledger);
            // An answer settles its question; it may uncover a slip, but is not asked for again.
            const alike = (list: typeof again.questions) =>
              list.filter(({ message }) => message === question.message).length;
            expect(alike(again.questions)).toBeLessThan(alike(read.questions));
          }
        }
        session = read.session;
      }
    }),
    { numRuns: RUNS },
  );
  expect(understood).toBeGreaterThan(RUNS / 20);
  expect(asked).toBeGreaterThan(RUNS / 20);
});

test('completions begin with what is typed and take its place', () => {
  fc.assert(
    fc.property(line, fc.nat(), (one, nat) => {
      const cursor = nat % (one.length + 1);
      const { start, words: offered } = completions(one, cursor, ledger);
      const typed = one.slice(start, cursor).toLowerCase();
      for (const word of offered) expect(word.toLowerCase().startsWith(typed)).toBe(true);
    }),
    { numRuns: RUNS },
  );
});
