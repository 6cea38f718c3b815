import fc from 'fast-check';
import { expect, test } from 'vitest';
import { beginSession, readLine } from '../../src/writing/shorthand/read-line.ts';
import { day, entryLedger } from '../support/entry-ledger.ts';
import { RUNS } from '../support/property-runs.ts';

const ledger = entryLedger();
const start = beginSession(day('2026-07-24'));

/** A mark on the scale of 1 to 10, in halves or tenths, or none. */
const mark = fc.oneof(
  fc.integer({ min: 10, max: 100 }).map((tenths) => tenths / 10),
  fc.integer({ min: 2, max: 20 }).map((halves) => halves / 2),
  fc.constant(undefined),
);
const sheet = fc.tuple(mark, mark, mark).filter((marks) => marks.some((one) => one !== undefined));

function typed(marks: readonly (number | undefined)[], sign: string, between: string): string {
  return marks
    .map((one) => (one === undefined ? '-' : String(one).replace('.', sign)))
    .join(between);
}

function named([sweetness, flavour, texture]: readonly (number | undefined)[]) {
  const marks = { sweetness, flavour, texture };
  return Object.fromEntries(Object.entries(marks).filter(([, one]) => one !== undefined));
}

test('marks are read as they were typed or asked about, whatever the decimal sign', () => {
  let understood = 0;
  fc.assert(
    fc.property(
      sheet,
      sheet,
      fc.constantFrom('.', ','),
      fc.constantFrom(' ', ', '),
      (mara, joss, sign, between) => {
        const line = `taste G3 early: mara ${typed(mara, sign, between)}, joss ${typed(joss, sign, between)}`;
        const { slips, questions, entries } = readLine(line, start, ledger);
        expect(slips, line).toEqual([]);
        if (questions.length > 0) return;
        understood++;
        expect(entries[0]?.entry, line).toMatchObject({
          scores: { mara: { G3: named(mara) }, joss: { G3: named(joss) } },
        });
      },
    ),
    { numRuns: RUNS },
  );
  expect(understood).toBeGreaterThan(20);
});

test('weights and spoiled fruit are read as they were typed or asked about', () => {
  let understood = 0;
  const weights = fc.array(fc.integer({ min: 200, max: 900 }), { minLength: 1, maxLength: 5 });
  fc.assert(
    fc.property(weights, fc.nat(5), fc.nat(3), fc.boolean(), (tenths, split, bird, isBehind) => {
      const grams = tenths.map((one) => one / 10);
      const spoilt = [
        ...(split > 0 ? [isBehind ? `split ${split}` : `${split} split`] : []),
        ...(bird > 0 ? [isBehind ? `bird ${bird}` : `${bird} bird`] : []),
      ];
      const line = ['G3 early', ...grams, ...spoilt].join(' ');
      const { slips, questions, entries } = readLine(line, start, ledger);
      if (split + bird > grams.length) {
        expect(slips.length + questions.length, line).toBeGreaterThan(0);
        return;
      }
      if (questions.length > 0) return;
      understood++;
      expect(slips, line).toEqual([]);
      expect(entries[0]?.entry, line).toEqual({
        on: '2026-07-24',
        tree: 'G3',
        crop: 'early',
        weights: grams,
        ...(split > 0 ? { split } : {}),
        ...(bird > 0 ? { bird } : {}),
      });
    }),
    { numRuns: RUNS },
  );
  expect(understood).toBeGreaterThan(20);
});
