import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { anyReport, STEERING } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import type { Column, Report } from '../report/table.ts';
import { displayWidth } from '../source/display-width.ts';
import { peopleColumns } from './people-columns.ts';
import { styleFor } from './style.ts';
import { renderText, tableLines } from './text.ts';

const plain = (width: number) => ({ width, colorLevel: 0, unicode: true }) as const;
const linesOf = (text: string): readonly string[] => text.split('\n');

describe('the sample report', () => {
  test('at 80 columns', () => {
    expect(linesOf(renderText(sampleReport({ notes: [] }), plain(80)))).toEqual([
      'Fruit set and picked by tree, early crop 2026',
      '',
      '                                              Fruit                      Picked',
      '                             Load               per         95%  Picked  weight',
      'Tree  Cultivar            (fruit)  Branches  branch    interval     (%)     (g)',
      '────  ──────────────────  ───────  ────────  ──────  ──────────  ──────  ──────',
      'G3    Amber Lantern            21         8    2.63  1.95– 3.30      95    1114',
      'Y1    Amber Lantern            12         6    2.00  0.80–12.25      75     431',
      'P2    Black Harbour Late        4         7    0.57                  50      61',
      'Y2    日本 Saltmarsh            0         5    0.00',
      '',
      '- More columns: --columns.',
      '',
    ]);
  });

  test('on a page nothing is left out at the width that it names', () => {
    const page = (width: number) =>
      tableLines(sampleReport(), plain(width), styleFor(0)).join('\n');
    expect(page(124)).not.toContain('Left out');
    // Less than that wraps a name first.
    expect(page(123)).toContain('Black Harbour      pots');
    expect(page(100)).toMatch(/Left out[^.]*\. All of it: [^.]* 124[\s]columns/);
  });

  test('a column that says the same in every row is told once', () => {
    const text = renderText(sampleReport({ notes: [] }), plain(124));
    expect(text).toContain('- The same in every row: Season: 2026.\n');
    expect(text).not.toMatch(/^Tree .* Season/m);
    const chosen = renderText(sampleReport({ notes: [] }), plain(124), { chosen: true });
    expect(chosen).toMatch(/^Tree .* Season/m);
  });

  test('what takes the room of such a column is told once too, if it is the same in every row', () => {
    const { columns, rows } = sampleReport();
    const [first] = columns.filter(({ key }) => key === 'tree');
    const wide = (key: string, drop: number): Column => ({
      ...{ key, label: `${key} ${'x'.repeat(30)}`, kind: 'number', digits: 0, drop },
    });
    const report = sampleReport({
      columns: [...(first === undefined ? [] : [first]), wide('a', 2), wide('b', 3)],
      rows: rows.map((row) => ({ ...row, a: 1, b: 100 })),
      notes: [],
    });
    const text = renderText(report, plain(40));
    expect(text.replaceAll(/\s+/g, ' ')).toContain(
      `The same in every row: a ${'x'.repeat(30)}: 1; b ${'x'.repeat(30)}: 100.`,
    );
    expect(linesOf(text).some((line) => / 100$/.test(line))).toBe(false);
  });

  test('few notes are the brief ones, and none are none', () => {
    const notes = [
      { kind: 'method' as const, text: 'How it is worked out at length.' },
      { kind: 'evidence' as const, text: 'Four trees in one season.', brief: 'Four trees.' },
      { kind: 'caution' as const, text: 'Mind the ladder.', brief: 'Mind the ladder.' },
    ];
    const told = (level: 'few' | 'none' | 'all') =>
      linesOf(renderText(sampleReport({ notes }), plain(300), { notes: level })).filter((line) =>
        line.startsWith('- '),
      );
    const same = '- The same in every row: Season: 2026.';
    expect(told('few')).toEqual([
      same,
      '- Four trees.',
      '- Mind the ladder.',
      '- How it is worked out: --explain.',
    ]);
    expect(told('none')).toEqual([same]);
    expect(told('all')).toEqual([
      same,
      '- How it is worked out at length.',
      '- Four trees in one season.',
      '- Caution: Mind the ladder.',
    ]);
  });

  test('notes are wrapped, hang, and cautions say what they are', () => {
    const [first, second] = linesOf(renderText(sampleReport(), plain(60))).slice(-5, -3);
    expect(first).toBe('- Caution: Trees under glass and trees outdoors stand in one');
    expect(second).toBe('  table; the difference between them may be the site and not');
  });

  test('without Unicode everything of our own is ASCII', () => {
    const text = renderText(sampleReport(), { width: 80, colorLevel: 0, unicode: false });
    expect(text.replaceAll('日本', '')).toMatch(/^[\n -~]*$/);
    expect(text).toContain('1.95 to  3.30');
  });

  test('colour changes nothing but colour', () => {
    const coloured = renderText(sampleReport(), { ...plain(80), colorLevel: 1 });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: the escapes are what is looked for
    expect(coloured.replace(/\u001b\[\d+m/g, '')).toBe(renderText(sampleReport(), plain(80)));
    expect(coloured).toContain('\u001b[1mFruit set');
    expect(coloured).toContain('\u001b[33m- Caution:');
  });
});

const name: Column = { key: 'name', label: 'Cultivar', kind: 'text', drop: 0 };
const load: Column = { key: 'load', label: 'Load', kind: 'integer', drop: 1 };

test('a report without rows says so', () => {
  const text = renderText(sampleReport({ rows: [], notes: [] }), plain(80));
  expect(text).toContain('\n\nNothing to show');
});

test('one column, and a column of nothing', () => {
  const rows = [{ name: 'Amber Lantern', load: null }];
  const bare = { title: 'Load', rows, notes: [] };
  expect(linesOf(renderText(sampleReport({ ...bare, columns: [name] }), plain(80)))).toEqual([
    ...['Load', '', 'Cultivar', '─────────────', 'Amber Lantern', ''],
  ]);
  const both = linesOf(renderText(sampleReport({ ...bare, columns: [name, load] }), plain(80)));
  expect(both[4]).toBe('Amber Lantern');
});

test('negative figures keep their decimals aligned', () => {
  const lean: Column = { key: 'lean', label: 'Slope', kind: 'number', digits: 2, drop: 0 };
  const rows = [{ lean: -0.5 }, { lean: 12.25 }, { lean: -0.001 }];
  const lines = linesOf(renderText(sampleReport({ columns: [lean], rows, notes: [] }), plain(80)));
  expect(lines.slice(4, 7)).toEqual(['-0.50', '12.25', ' 0.00']);
});

test('names of rows are wrapped, not cut to the same', () => {
  const rows = [
    { name: 'Tidewrack Seedling Early', load: 1 },
    { name: 'Tidewrack Seedling Late', load: 2 },
  ];
  const columns = [name, load, { ...load, key: 'more', label: 'Branches counted', drop: 2 }];
  const lines = linesOf(renderText(sampleReport({ columns, rows, notes: [] }), plain(32)));
  expect(lines.join('\n')).toMatch(
    /Tidewrack +1\b.*\nSeedling Early\nTidewrack +2\b.*\nSeedling Late/,
  );
});

test('a sentence is wrapped in its column; only a long one is cut, and that is said', () => {
  const why: Column = { key: 'why', label: 'Why not ranked', kind: 'text', drop: 0 };
  const textFor = (sentence: string): string =>
    renderText(
      sampleReport({
        columns: [name, why],
        rows: [{ name: 'Saltmarsh', why: sentence }],
        notes: [],
      }),
      plain(40),
    );
  const short = textFor('flavour was not tasted in any of the seasons asked for');
  expect(linesOf(short).slice(5)).toEqual([
    'Saltmarsh  flavour was not tasted in any',
    '           of the seasons asked for',
    '',
  ]);
  const long = textFor('flavour was not tasted '.repeat(9));
  expect(linesOf(long).slice(8, 11)).toEqual([
    '           flavour was not tasted…',
    '',
    '- Long text is cut short: --format csv',
  ]);
});

test('a sentence is wrapped before a column is left out', () => {
  const why: Column = { key: 'why', label: 'Why not ranked', kind: 'text', drop: 0 };
  const rows = [{ name: 'Saltmarsh', load: 3, why: 'flavour was not tasted in any season' }];
  const text = renderText(sampleReport({ columns: [name, load, why], rows }), plain(42));
  expect(text).toContain('Saltmarsh     3  flavour was not tasted in');
  expect(text).not.toContain('--columns');
});

test('what cannot be narrower stays whole rather than being garbled', () => {
  const wide: Column = { key: 'w', label: 'Weight', kind: 'number', digits: 2, drop: 0 };
  const columns = Array.from({ length: 6 }, (_, index) => ({ ...wide, key: `w${index}` }));
  const row = Object.fromEntries(columns.map(({ key }) => [key, 1234.5]));
  const lines = linesOf(renderText(sampleReport({ columns, rows: [row], notes: [] }), plain(20)));
  expect(lines).toContain(Array.from({ length: 6 }, () => '1234.50').join('  '));
});

test('time grows in step with the rows', () => {
  const { rows: few } = sampleReport();
  const timeOf = (count: number): number => {
    const rows = Array.from({ length: count }, (_, index) => few[index % 3] ?? {});
    const report = sampleReport({ rows, notes: [] });
    const started = performance.now();
    expect(linesOf(renderText(report, plain(160)))).toHaveLength(count + 8);
    return performance.now() - started;
  };
  timeOf(400);
  const short = Math.min(timeOf(400), timeOf(400), timeOf(400));
  const long = Math.min(timeOf(4000), timeOf(4000), timeOf(4000));
  // Ten times the rows: about 9 as drawn, 30 where the package gets the whole table at once.
  expect(long / short).toBeLessThan(18);
});

test('whatever a ledger holds: within the width, no escapes, one line end at the end', () => {
  const widths = fc.integer({ min: 20, max: 200 });
  fc.assert(
    fc.property(anyReport, widths, fc.boolean(), (report, width, unicode) => {
      const text = renderText(report, { width, colorLevel: 0, unicode });
      expect(text).not.toMatch(STEERING);
      expect(text).toMatch(/[^\n]\n$|^\n$/);
      const most = Math.max(width, leastWidth(report, unicode));
      for (const line of linesOf(text)) {
        expect(displayWidth(line)).toBeLessThanOrEqual(most);
        expect(line).toBe(line.trimEnd());
      }
    }),
    { numRuns: 500 },
  );
});

/** What cannot give way: words of headers, figures, and eight columns of text. */
function leastWidth(report: Report, unicode: boolean): number {
  const columns = peopleColumns(report, { joiner: unicode ? '–' : ' to ', padEnds: true })
    .filter((column) => column.drop === 0)
    .map(({ header, align, cells }) => {
      const figures = align === 'right' ? cells : ['x'.repeat(8)];
      return Math.max(1, ...[...header.split(/\s/u), ...figures].map(displayWidth));
    });
  return columns.reduce((sum, one) => sum + one, 2 * (columns.length - 1));
}

test('columns stand under each other in any script', () => {
  const scripts = fc.constantFrom(
    'ก้ำ',
    'हिन्दी',
    'عُنَيب',
    '한국',
    'ﾊﾟ',
    'e\u0301',
    '日本',
    'Zoë',
    'fig',
    '👩‍🌾',
  );
  fc.assert(
    fc.property(fc.array(scripts, { minLength: 1, maxLength: 6 }), (names) => {
      const rows = names.map((one, index) => ({ name: one, load: index }));
      const text = renderText(sampleReport({ columns: [name, load], rows, notes: [] }), plain(80));
      const widths = linesOf(text).slice(3, -1).map(displayWidth);
      expect(new Set(widths).size).toBe(1);
      for (const one of names) expect(text).toContain(one);
    }),
  );
});
