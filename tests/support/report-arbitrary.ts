import fc from 'fast-check';
import type { Cell, Column, ColumnKind, Note, Report } from '../../src/report/table.ts';

/** Text as hostile as a file can hold: escapes, marks of every format, wide letters, half pairs. */
export const anyText: fc.Arbitrary<string> = fc
  .array(
    fc.oneof(
      { weight: 4, arbitrary: fc.constantFrom(...'abc XYZ0123') },
      { weight: 3, arbitrary: fc.constantFrom(...'|\\`*_[]<>#&~$"\',;=+-@!().:{}') },
      fc.constantFrom('日', '本', 'e\u0301', 'ส้', 'की', 'عُ', '🍇', '👩‍🌾', '\u200b', '\ufeff'),
      fc.constantFrom('\u001b[31m', '\u009b', '\u0000', '\u007f', '\u202e', '\t', '\n', '\r'),
      fc.constantFrom('\ud83c', '\udf47', '<b>', '</td>', '<!--', '&amp;', 'https://x.invalid'),
    ),
    { maxLength: 24 },
  )
  .map((parts) => parts.join(''));

const figure = fc.oneof(
  fc.constantFrom(0, -0, 1, 0.5),
  fc.integer({ min: -9999, max: 9999 }).map((hundredths) => hundredths / 100),
  fc.double({ min: -1e6, max: 1e6, noNaN: true }),
);

function cellFor(kind: ColumnKind): fc.Arbitrary<Cell> {
  if (kind === 'text') return fc.oneof(anyText, fc.constant(null), fc.boolean());
  if (kind === 'date') return fc.constantFrom('2026-07-02', '2024-02-29', null);
  return fc.oneof({ weight: 4, arbitrary: figure }, fc.constant(null));
}

const shape = fc.record({
  label: fc.oneof(fc.constantFrom('Fruit per branch', '95% interval', 'Cultivar', ''), anyText),
  unit: fc.constantFrom(undefined, 'g', 'g/cm2'),
  kind: fc.constantFrom<ColumnKind>('text', 'date', 'integer', 'number', 'share'),
  digits: fc.integer({ min: 0, max: 3 }),
  drop: fc.nat(4),
  joined: fc.boolean(),
});

/** Reports of up to eight columns and rows; the first column never goes. */
export const anyReport: fc.Arbitrary<Report> = fc
  .array(shape, { minLength: 1, maxLength: 8 })
  .chain((shapes) => {
    const columns = shapes.map((one, index): Column => {
      const isFigure = one.kind !== 'text' && one.kind !== 'date';
      const upTo = one.joined && isFigure && shapes[index + 1]?.kind === one.kind;
      return {
        ...{ key: `column${index}`, label: one.label, kind: one.kind, digits: one.digits },
        drop: index === 0 ? 0 : one.drop,
        ...(one.unit === undefined ? {} : { unit: one.unit }),
        ...(upTo ? { upTo: `column${index + 1}` } : {}),
      };
    });
    const row = fc.record(Object.fromEntries(columns.map((one) => [one.key, cellFor(one.kind)])));
    return fc.record({
      report: fc.constant('yield'),
      title: anyText,
      ledgerTitle: anyText,
      selection: fc.constant({ season: [2026], cultivar: 'x\u001b' }),
      columns: fc.constant(columns),
      rows: fc.array(row, { maxLength: 8 }),
      notes: fc.array(
        fc.record<Note>({
          kind: fc.constantFrom('method', 'evidence', 'caution'),
          text: anyText,
        }),
        { maxLength: 3 },
      ),
    });
  });

/** Characters that steer a terminal; none may be in any output, save the line ends of its own. */
export const STEERING = /[^\P{Cc}\n]|[\p{Zl}\p{Zp}\p{Cs}]|\p{Bidi_Control}/u;
