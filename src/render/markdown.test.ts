import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anyReport, anyText, STEERING } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import type { Column } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { renderMarkdown } from './markdown.ts';

const name: Column = { key: 'name', label: 'Cultivar', kind: 'text', drop: 0 };
const ofName = (text: string) =>
  sampleReport({ columns: [name], rows: [{ name: text }], notes: [] });

test('a pipe table under a heading, notes as a list', () => {
  expect(renderMarkdown(sampleReport()).split('\n').slice(0, 5)).toEqual([
    '## Fruit set and picked by tree, early crop 2026',
    '',
    '| Tree | Cultivar | Site | Season | Load (fruit) | Branches | Fruit per branch | 95% interval | Picked (%) | Picked weight (g) | Trunk area (cm2) | Yield efficiency (g/cm2) |',
    // As many dashes as the widest cell is wide, by which pandoc shares the width of a page.
    `| ${[4, 18, 16, -6, -12, -8, -16, -12, -10, -17, -16, -24].map((dashes) => `${'-'.repeat(Math.abs(dashes))}${dashes < 0 ? ':' : ''}`).join(' | ')} |`,
    '| G3 | Amber Lantern | glasshouse | 2026 | 21 | 8 | 2.63 | 1.95–3.30 | 95 | 1114 | 16.1 | 69.4 |',
  ]);
  expect(renderMarkdown(sampleReport())).toContain('\n- **Caution:** Trees under glass');
});

// CommonMark 0.31.2: 2.4 backslash escapes, 2.5 entities; GFM 0.29: 4.10 tables.
test('a name with marks of Markdown in it comes out letter by letter', () => {
  expect(renderMarkdown(ofName('*Amber*'))).toContain('\n| \\*Amber\\* |\n');
  expect(renderMarkdown(ofName('<b>|x'))).toContain('\n| &lt;b&gt;\\|x |\n');
  expect(renderMarkdown(ofName('a_b `c` [d](e) #1 & \\'))).toContain(
    '\n| a\\_b \\`c\\` \\[d\\](e) \\#1 &amp; \\\\ |\n',
  );
  expect(renderMarkdown(ofName('two\nlines'))).toContain('\n| two lines |\n');
});

test('a note that begins like a list stays a line of text', () => {
  const lines = ['- first', '+ more', '1. one', '12) twelve'].map((text) =>
    renderMarkdown(sampleReport({ notes: [{ kind: 'method', text }] }))
      .split('\n')
      .at(-2),
  );
  expect(lines).toEqual(['- \\- first', '- \\+ more', '- 1\\. one', '- 12\\) twelve']);
});

test('a report without rows says so', () => {
  expect(renderMarkdown(sampleReport({ rows: [] }))).toContain('\nNothing to show');
});

/** Reads a cell as CommonMark does; throws at a mark that would not stand for itself. */
function read(cell: string): string {
  return cell.replace(
    /\\([!-/:-@[-`{-~])|&(lt|gt|amp|#123|#125);|([\\`*_[\]<>#&|~{}])/g,
    (_, escaped: string | undefined, entity: string | undefined, bare: string) => {
      if (escaped !== undefined) return escaped;
      if (entity === undefined) throw new Error(`bare ${bare} in ${cell}`);
      return { lt: '<', gt: '>', amp: '&', '#123': '{', '#125': '}' }[entity] ?? '';
    },
  );
}

test('a name in the braces of a template comes out as a name', () => {
  const text = renderMarkdown(ofName('{{ x }} {% y %}'));
  expect(text).toContain('&#123;&#123; x &#125;&#125; &#123;% y %&#125;');
});

test('every name reads back as it was, save blanks', () => {
  fc.assert(
    fc.property(anyText, (text) => {
      const row = renderMarkdown(ofName(text)).split('\n')[4] ?? '';
      expect(row).toMatch(/^\| .*\|$/u);
      const shown = visible(text).replace(/\s+/gu, ' ').trim();
      expect(read(row.slice(2, -2).trim())).toBe(shown);
    }),
    { numRuns: 500 },
  );
});

test('every line of the table has as many bars as the head', () => {
  fc.assert(
    fc.property(anyReport, (report) => {
      const text = renderMarkdown(report);
      expect(text).not.toMatch(STEERING);
      expect(text).toMatch(/[^\n]\n$/);
      const lines = text.split('\n').filter((line) => line.startsWith('|'));
      if (report.rows.length === 0) expect(lines).toEqual([]);
      else expect(lines).toHaveLength(report.rows.length + 2);
      const bars = lines.map((line) => line.replace(/\\./gu, '').split('|').length);
      expect(new Set(bars).size).toBeLessThanOrEqual(1);
    }),
  );
});
