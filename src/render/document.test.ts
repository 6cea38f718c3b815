import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { anyText, STEERING } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import {
  type Block,
  type Document,
  factsSection,
  type Section,
  tableSection,
} from '../report/document.ts';
import { displayWidth } from '../source/display-width.ts';
import { DOCUMENT_FORMATS, type DocumentFormat, renderDocument } from './document.ts';
import type { Look } from './look.ts';

const LOOK: Look = { width: 80, colorLevel: 0, unicode: true };

const print = (document: Document, format: DocumentFormat, look: Look = LOOK) =>
  renderDocument(document, format, {
    look,
    pictures: { drawn: new Map(), links: new Map() },
    frontMatter: true,
  });

function sampleDocument(changes: Partial<Document> = {}): Document {
  const { columns, rows, ...report } = sampleReport();
  return {
    ...{ report: 'card', title: 'Amber Lantern', ledgerTitle: report.ledgerTitle },
    ...{ selection: report.selection, notes: report.notes },
    sections: [
      factsSection({
        ...{ key: 'names', heading: 'Names' },
        facts: [
          { label: 'Also', text: 'Lantern <Yellow> | *so called*' },
          { label: 'Note', text: 'word '.repeat(40).trim() },
        ],
        says: { also: ['Lantern <Yellow> | *so called*'] },
      }),
      tableSection({ key: 'seasons', heading: 'Seasons', table: { columns, rows }, ifEmpty: '' }),
      tableSection({
        ...{ key: 'ranks', heading: 'Ranks', table: { columns, rows: [] } },
        ifEmpty: 'Nothing to rank.',
      }),
    ],
    ...changes,
  };
}

describe('a page as text', () => {
  test('puts leads in a column and hangs what is long beside them', async () => {
    const text = await print(sampleDocument(), 'text');
    expect(text).toContain('Names\n  Also  Lantern <Yellow> | *so called*\n  Note  word word word');
    expect(text).toMatch(/\n {8}word word/);
    expect(text).toContain('Ranks\n  Nothing to rank.\n');
  });

  test('names a form that has everything where columns are left out', async () => {
    const text = (await print(sampleDocument(), 'text')).replace(/\s+/g, ' ');
    expect(text).toContain('Left out for lack of width');
    expect(text).toContain('All of it: --format json');
    expect(text).not.toContain('csv');
  });
});

test('a page as Markdown keeps marks as letters and lists apart', async () => {
  const text = await print(sampleDocument(), 'markdown');
  expect(text).toContain('## Amber Lantern\n\n### Names\n\n- **Also:** Lantern &lt;Yellow&gt;');
  expect(text).toContain('\\| \\*so called\\*');
  expect(text).toContain('### Ranks\n\nNothing to rank.\n\n### About these figures\n\n- ');
});

test('a page as HTML escapes what was typed', async () => {
  const text = await print(sampleDocument(), 'html');
  expect(text).toContain('<dt>Also</dt>\n<dd>Lantern &#60;Yellow&#62; | *so called*</dd>');
  expect(text).toContain('<caption id="table-1" class="unseen">Seasons</caption>');
  expect(text).toContain('<p>Nothing to rank.</p>');
  expect(text).not.toContain('<script');
});

test('a page as JSON has its sections by key, with unrounded figures', async () => {
  const page = JSON.parse(await print(sampleDocument(), 'json'));
  expect(Object.keys(page.sections)).toEqual(['names', 'seasons', 'ranks']);
  expect(page.sections.names).toEqual({ also: ['Lantern <Yellow> | *so called*'] });
  expect(page.sections.seasons.rows[0]).toMatchObject({ load: 21, fruitPerBranch: 2.625 });
  expect(page.sections.ranks.rows).toEqual([]);
});

const anyNotes = fc.array(
  anyText.map((text) => ({ kind: 'evidence', text }) as const),
  {
    maxLength: 2,
  },
);
/** That fits any width. */
const NARROW = { ...sampleReport(), columns: sampleReport().columns.slice(0, 1) };

const anyBlock: fc.Arbitrary<Block> = fc.oneof(
  fc.record({ kind: fc.constant('subheading' as const), text: anyText }),
  fc.record({ kind: fc.constant('paragraph' as const), text: fc.tuple(anyText) }),
  fc.record({
    kind: fc.constant('list' as const),
    lines: fc.array(fc.tuple(anyText), { maxLength: 3 }),
  }),
  fc.record({
    kind: fc.constant('facts' as const),
    facts: fc.array(fc.record({ label: anyText, text: anyText }), { maxLength: 4 }),
  }),
  fc.record({
    kind: fc.constant('table' as const),
    caption: anyText,
    table: fc.constantFrom(NARROW, { ...NARROW, rows: [] }),
    ifEmpty: anyText,
    notes: anyNotes,
  }),
  fc.record({
    kind: fc.constant('lines' as const),
    lines: fc.array(fc.tuple(anyText), { maxLength: 3 }),
  }),
  fc.record({ kind: fc.constant('notes' as const), notes: anyNotes }),
  fc.record({
    kind: fc.constant('blanks' as const),
    text: anyText,
    count: fc.integer({ min: 0, max: 9 }),
  }),
  fc.record({
    kind: fc.constant('photo' as const),
    photo: fc.record({ path: anyText, alt: anyText }),
  }),
);

const anySection: fc.Arbitrary<Section> = fc.record({
  key: fc.constant('facts'),
  heading: anyText,
  blocks: fc.array(anyBlock, { maxLength: 4 }),
  isNewPage: fc.boolean(),
});

test('whatever is in it, no form steers the terminal, and text keeps to the width', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(anySection, { maxLength: 3 }),
      fc.integer({ min: 20, max: 120 }),
      anyText,
      fc.option(
        fc.record({
          description: anyText,
          date: fc.constant('2026-11-01'),
          tags: fc.tuple(anyText),
        }),
      ),
      fc.option(fc.constantFrom('portrait' as const, 'landscape' as const)),
      async (sections, width, title, published, paper) => {
        for (const format of DOCUMENT_FORMATS) {
          const page = sampleDocument({
            sections,
            title,
            ...(published === null ? {} : { published }),
            ...(paper === null ? {} : { paper }),
          });
          const text = await print(page, format, { ...LOOK, width });
          expect(text.endsWith('\n')).toBe(true);
          expect(text.replaceAll('\n\f\n', '\n')).not.toMatch(STEERING);
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
