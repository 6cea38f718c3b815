import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { anyText, STEERING } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import type { Page, Section } from '../report/page.ts';
import { displayWidth } from '../source/display-width.ts';
import type { Look } from './look.ts';
import { PAGE_FORMATS, renderPage } from './page.ts';

const LOOK: Look = { width: 80, colorLevel: 0, unicode: true };

function samplePage(changes: Partial<Page> = {}): Page {
  const { columns, rows, ...report } = sampleReport();
  return {
    ...{ report: 'card', title: 'Amber Lantern', ledgerTitle: report.ledgerTitle },
    ...{ selection: report.selection, notes: report.notes },
    sections: [
      {
        ...{ kind: 'lines', key: 'names', heading: 'Names' },
        lines: [
          { lead: 'Also', text: 'Lantern <Yellow> | *so called*' },
          { lead: 'Note', text: 'word '.repeat(40).trim() },
        ],
        says: { also: ['Lantern <Yellow> | *so called*'] },
      },
      { kind: 'table', key: 'seasons', heading: 'Seasons', table: { columns, rows }, ifEmpty: '' },
      {
        ...{ kind: 'table', key: 'ranks', heading: 'Ranks', table: { columns, rows: [] } },
        ifEmpty: 'Nothing to rank.',
      },
    ],
    ...changes,
  };
}

describe('a page as text', () => {
  test('puts leads in a column and hangs what is long beside them', async () => {
    const text = await renderPage(samplePage(), 'text', LOOK);
    expect(text).toContain('Names\n  Also  Lantern <Yellow> | *so called*\n  Note  word word word');
    expect(text).toMatch(/\n {8}word word/);
    expect(text).toContain('Ranks\n  Nothing to rank.\n');
  });

  test('names a form that has everything where columns are left out', async () => {
    const text = (await renderPage(samplePage(), 'text', LOOK)).replace(/\s+/g, ' ');
    expect(text).toContain('Left out for lack of width');
    expect(text).toContain('All of it: --format json');
    expect(text).not.toContain('csv');
  });
});

test('a page as Markdown keeps marks as letters and lists apart', async () => {
  const text = await renderPage(samplePage(), 'markdown', LOOK);
  expect(text).toContain('## Amber Lantern\n\n### Names\n\n- **Also:** Lantern &lt;Yellow&gt;');
  expect(text).toContain('\\| \\*so called\\*');
  expect(text).toContain('### Ranks\n\nNothing to rank.\n\n### About these figures\n\n- ');
});

test('a page as HTML escapes what was typed', async () => {
  const text = await renderPage(samplePage(), 'html', LOOK);
  expect(text).toContain('<dt>Also</dt>\n<dd>Lantern &#60;Yellow&#62; | *so called*</dd>');
  expect(text).toContain('<caption id="caption-seasons">Seasons</caption>');
  expect(text).toContain('<p>Nothing to rank.</p>');
  expect(text).not.toContain('<script');
});

test('a page as JSON has its sections by key, with unrounded figures', async () => {
  const page = JSON.parse(await renderPage(samplePage(), 'json', LOOK));
  expect(Object.keys(page.sections)).toEqual(['names', 'seasons', 'ranks']);
  expect(page.sections.names).toEqual({ also: ['Lantern <Yellow> | *so called*'] });
  expect(page.sections.seasons.rows[0]).toMatchObject({ load: 21, fruitPerBranch: 2.625 });
  expect(page.sections.ranks.rows).toEqual([]);
});

const anySection = fc.record({
  kind: fc.constant('lines' as const),
  key: fc.constant('facts'),
  heading: anyText,
  lines: fc.array(fc.record({ lead: anyText, text: anyText }), { maxLength: 4 }),
  says: anyText,
}) satisfies fc.Arbitrary<Section>;

test('whatever is in it, no form steers the terminal, and text keeps to the width', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(anySection, { maxLength: 3 }),
      fc.integer({ min: 20, max: 120 }),
      anyText,
      async (sections, width, title) => {
        for (const format of PAGE_FORMATS) {
          const page = samplePage({ sections, title });
          const text = await renderPage(page, format, { ...LOOK, width });
          expect(text.endsWith('\n')).toBe(true);
          expect(text).not.toMatch(STEERING);
          if (format !== 'text') continue;
          for (const line of text.split('\n')) {
            expect(displayWidth(line)).toBeLessThanOrEqual(width);
          }
        }
      },
    ),
    { numRuns: 200 },
  );
});
