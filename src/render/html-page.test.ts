import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anyReport, STEERING } from '../../tests/support/report-arbitrary.ts';
import { sampleReport } from '../../tests/support/report-sample.ts';
import type { Column } from '../report/table.ts';
import { visible } from '../source/visible.ts';
import { renderHtml } from './html-page.ts';

import { htmlStyle, paperStyle } from './html-style.ts';

const VOID = new Set(['meta']);

interface Element {
  readonly name: string;
  readonly text: string;
}

/** Reads a page strictly: only elements and attributes that are closed, quoted and nested well. */
function read(page: string): readonly Element[] {
  const body = page.replace(/^<!doctype html>\n/, '').replace(/<style>[^<]*<\/style>/, '');
  const open: { name: string; text: string }[] = [];
  const found: Element[] = [];
  const token = /<(\/?)([a-z][a-z0-9]*)((?: [a-z-]+="[^"<>]*")*)>|([^<>]+)|([\s\S])/g;
  for (const [, close, name = '', , text, stray] of body.matchAll(token)) {
    if (stray !== undefined) throw new Error(`stray ${stray}`);
    if (text !== undefined) {
      if (/&(?!#\d+;)/.test(text)) throw new Error(`bare & in ${text}`);
      const meant = text.replace(/&#(\d+);/g, (_, code: string) =>
        String.fromCharCode(Number(code)),
      );
      for (const one of open) one.text += meant;
    } else if (close === '/') {
      const last = open.pop();
      if (last?.name !== name) throw new Error(`</${name}> closes ${last?.name}`);
      found.push(last);
    } else if (!VOID.has(name)) open.push({ name, text: '' });
  }
  if (open.length > 0) throw new Error(`not closed: ${open.map((one) => one.name).join()}`);
  return found;
}

const textsOf = (elements: readonly Element[], name: string): readonly string[] =>
  elements.filter((one) => one.name === name).map((one) => one.text);

test('a page in a language, with a title, a caption and headers with a scope', () => {
  const page = renderHtml(sampleReport());
  expect(page).toMatch(/^<!doctype html>\n<html lang="en">/);
  expect(page).toContain('<meta name="viewport" content="width=device-width, initial-scale=1">');
  const elements = read(page);
  expect(textsOf(elements, 'title')).toEqual([
    'Fruit set and picked by tree, early crop 2026 | Tidewrack Lane fig trial',
  ]);
  expect(textsOf(elements, 'caption')).toEqual(['Fruit set and picked by tree, early crop 2026']);
  expect(page.match(/<th scope="col"/g)).toHaveLength(12);
  expect(page.match(/<th scope="row"[^>]*>(G3|Y1|P2|Y2)</g)).toHaveLength(4);
  expect(page).toContain('<td class="figure">1.95–3.30</td>');
  expect(textsOf(elements, 'li').at(-1)).toMatch(/^Caution: Trees under glass/);
});

test('a table that is too wide scrolls in a region that the keyboard reaches', () => {
  expect(renderHtml(sampleReport())).toContain(
    '<section class="wide broad" aria-labelledby="caption" tabindex="0">',
  );
});

test('the first text column names its row, also behind a rank', () => {
  const columns: readonly Column[] = [
    { key: 'rank', label: 'Rank', kind: 'integer', drop: 0 },
    { key: 'cultivar', label: 'Cultivar', kind: 'text', drop: 0 },
  ];
  const page = renderHtml(
    sampleReport({ columns, rows: [{ rank: 1, cultivar: 'Amber Lantern' }] }),
  );
  expect(page).toContain(
    '<td class="figure">1</td>\n<th scope="row" class="short">Amber Lantern</th>',
  );
});

test('a long head has room for its words, so that it stands in few lines', () => {
  const columns: readonly Column[] = [
    { key: 'cultivar', label: 'Cultivar', kind: 'text', drop: 0 },
    { key: 'mean', label: 'Mean weight of all fruit', unit: 'g', kind: 'number', drop: 0 },
  ];
  const page = renderHtml(
    sampleReport({ columns, rows: [{ cultivar: 'Amber Lantern', mean: 57 }] }),
  );
  expect(page).toContain('<th scope="col">Cultivar</th>');
  expect(page).toContain('<th scope="col" class="figure long">Mean weight of all fruit (g)</th>');
});

test('a word stays in one line on a phone, a name need not', () => {
  const columns: readonly Column[] = [
    { key: 'cultivar', label: 'Cultivar', kind: 'text', drop: 0 },
    { key: 'crop', label: 'Crop', kind: 'text', drop: 0 },
    { key: 'why', label: 'Why', kind: 'text', drop: 0 },
  ];
  const row = { cultivar: 'Amber Lantern', crop: 'breba', why: 'two tastings and a season short' };
  const page = renderHtml(sampleReport({ columns, rows: [row] }));
  expect(page).toContain('<th scope="row" class="short">Amber Lantern</th>');
  expect(page).toContain('<td class="word">breba</td>');
  expect(page).toContain('<td>two tastings and a season short</td>');
});

test('the page runs nothing and fetches nothing', () => {
  const page = renderHtml(sampleReport());
  expect(page).not.toMatch(/<script|<link|<img|<iframe|\ssrc=|\shref=|\son[a-z]+=|url\(|@import/);
  expect(page).toContain("default-src 'none'");
});

test('a report without rows says so and has no table', () => {
  const elements = read(renderHtml(sampleReport({ rows: [] })));
  expect(textsOf(elements, 'table')).toEqual([]);
  expect(textsOf(elements, 'p').at(-1)).toMatch(/^Nothing to show/);
});

test('whatever a ledger holds is text and nothing but text', () => {
  fc.assert(
    fc.property(anyReport, (report) => {
      const page = renderHtml(report);
      expect(page).not.toMatch(STEERING);
      expect(page).toMatch(/<\/html>\n$/);
      const elements = read(page);
      expect(textsOf(elements, 'h1')).toEqual([visible(report.title)]);
      expect(textsOf(elements, 'tr')).toHaveLength(
        report.rows.length === 0 ? 0 : report.rows.length + 1,
      );
      expect(textsOf(elements, 'li')).toEqual(
        report.notes.map(
          (note) => `${note.kind === 'caution' ? 'Caution: ' : ''}${visible(note.text)}`,
        ),
      );
    }),
  );
});

/** Contrast ratio of two colours (WCAG 2.2, relative luminance and contrast ratio). */
function contrast(one: string, other: string): number {
  const luminance = (color: string): number => {
    const full = color.length === 4 ? color.replace(/[^#]/g, '$&$&') : color;
    const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(full.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

// WCAG 2.2, success criterion 1.4.6: at least 7 to 1 for text.
test('text stands out in the light, in the dark and on paper', () => {
  expect(contrast('#000', '#ffffff')).toBeCloseTo(21, 10);
  const style = `${htmlStyle('auto')}${paperStyle('portrait')}`;
  const schemes = [...style.matchAll(/:root \{([^}]*)\}/g)].map(([, block = '']) =>
    Object.fromEntries(
      [...block.matchAll(/--(\w+): (#\w+);/g)].map(([, key, color]) => [key, color]),
    ),
  );
  expect(schemes).toHaveLength(6);
  for (const scheme of schemes) {
    for (const ground of ['paper', 'faint']) {
      for (const text of ['ink', 'soft', 'caution', 'link']) {
        if (ground === 'faint' && text !== 'ink') continue;
        expect(contrast(scheme[text] ?? '', scheme[ground] ?? '')).toBeGreaterThanOrEqual(7);
      }
    }
  }
});

test('a page that is light or dark on every screen asks the screen nothing, and is printed in the light', () => {
  for (const ground of ['light', 'dark', 'none'] as const) {
    const style = htmlStyle(ground);
    expect(style).not.toContain('prefers-color-scheme');
    expect(style).toContain(`color-scheme: ${ground === 'dark' ? 'dark' : 'light'};`);
    expect(style.includes('--paper: #191c17')).toBe(ground === 'dark');
    expect(style.indexOf('@media print')).toBeGreaterThan(style.lastIndexOf('#191c17'));
  }
  expect(htmlStyle('dark')).toContain('@media screen {');
  expect(htmlStyle('auto')).toContain('@media (prefers-color-scheme: dark) {');
});

test('a sheet of paper ends between two records of a form, and no code is broken in two', () => {
  const style = paperStyle('landscape');
  // Each record of a form is a body of its own, often of one row: its first and its last.
  expect(style).not.toMatch(/^ *tbody tr:(?:first|last)-child \{\s*break/m);
  expect(style).not.toContain('overflow-wrap: anywhere');
});

test('a table of many columns is printed across the paper, one of few upright', () => {
  const columns = Array.from(
    { length: 12 },
    (_, at): Column => ({ key: `c${at}`, label: `Column ${at}`, kind: 'integer', drop: 0 }),
  );
  const row = Object.fromEntries(columns.map(({ key }) => [key, 1]));
  const page = (count: number) =>
    renderHtml(sampleReport({ columns: columns.slice(0, count), rows: [row] }));
  expect(page(12)).toContain('size: landscape;');
  expect(page(12)).toContain('<section class="wide broad"');
  expect(page(11)).not.toContain('size: landscape;');
});

test('score sheets and their key are not broader than a telephone, and whole on paper', () => {
  const [wide = '', narrow = ''] = paperStyle('portrait').split(
    '@media screen and (max-width: 40rem) {',
  );
  expect(wide).toMatch(/\.scores \{\s*min-width: 170mm/);
  expect(narrow).toMatch(/\.scores \{\s*min-width: 0/);
  expect(narrow).toMatch(/\.known :is\(th, td\) \{\s*display: inline-block/);
  expect(narrow).toContain('content: attr(data-head) " "');
});

test('a form is not broader than a telephone, where what is known and due is all that is shown', () => {
  const [, narrow = ''] = paperStyle('landscape').split('@media screen and (max-width: 40rem) {');
  expect(narrow).toMatch(/\.form :is\(colgroup,[^{]*td:not\(\.due, \.wait\)\) \{\s*display: none/);
  expect(narrow).toMatch(/\.form,\s*\.form :is\([^{]*\.wait\) \{\s*display: block/);
});
