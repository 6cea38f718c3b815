import { expect, test } from 'vitest';
import { sampleReport } from '../../tests/support/report-sample.ts';
import { FORMATS, renderReport } from './render-report.ts';

const look = { width: 100, colorLevel: 0, unicode: true } as const;

test('every format has a renderer, and each ends in one line end', async () => {
  const starts = await Promise.all(
    FORMATS.map(async (format) => {
      const text = await renderReport(sampleReport(), format, look);
      expect(text).toMatch(/[^\n]\n$/);
      return [format, text.slice(0, 9)];
    }),
  );
  expect(starts).toEqual([
    ['text', 'Fruit set'],
    ['markdown', '## Fruit '],
    ['html', '<!doctype'],
    ['csv', 'tree,cult'],
    ['json', '{\n  "repo'],
  ]);
});

test('rows that only machines want are left out where people read', async () => {
  const report = sampleReport();
  const names = report.rows.map((row) => String(row['tree']));
  const last = names.at(-1) ?? '';
  for (const format of FORMATS) {
    const one = await renderReport({ ...report, machineRows: 1 }, format, look);
    const machine = format === 'csv' || format === 'json';
    expect([format, one.includes(last)]).toEqual([format, machine]);
    const all = { ...report, machineRows: names.length, ifEmpty: 'No figure yet.' };
    const text = await renderReport(all, format, look);
    expect([format, text.includes('No figure yet.')]).toEqual([format, !machine]);
  }
});

test('only text depends on the look', async () => {
  const other = { width: 30, colorLevel: 3, unicode: false } as const;
  for (const format of FORMATS) {
    const same =
      (await renderReport(sampleReport(), format, look)) ===
      (await renderReport(sampleReport(), format, other));
    expect([format, same]).toEqual([format, format !== 'text']);
  }
});

test('a figure that is none is refused in every format', async () => {
  const columns = [{ key: 'load', label: 'Load', kind: 'integer', drop: 0 } as const];
  const wrong = sampleReport({ columns, rows: [{ load: Number.NaN }] });
  for (const format of FORMATS) {
    await expect(renderReport(wrong, format, look)).rejects.toThrow(RangeError);
  }
});
