import { describe, expect, test } from 'vitest';
import type { Report } from '../report/table.ts';
import { renderCsv } from './csv.ts';
import { renderText } from './text.ts';

const REPORT: Report = {
  report: 'rank',
  title: 'Rank',
  ledgerTitle: 'Trial',
  selection: {},
  columns: [
    { key: 'name', label: 'Name', kind: 'text', drop: 0 },
    { key: 'low', label: 'Interval', kind: 'number', digits: 0, drop: 0, upTo: 'high' },
    { key: 'high', label: 'Interval', kind: 'number', digits: 0, drop: 0 },
    { key: 'mid', label: 'Mid', kind: 'number', digits: 0, drop: 0, machineOnly: true },
  ],
  rows: [
    { name: 'a', low: 0, mid: 3, high: 6 },
    { name: 'b', low: 9, mid: 12, high: 15 },
    { name: 'c', low: null, mid: null, high: null },
  ],
  notes: [],
  strips: [{ after: 'low', low: 'low', point: 'mid', high: 'high', drop: 1 }],
};

const look = (width: number, unicode = true) => ({ width, colorLevel: 0 as const, unicode });
const lines = (text: string) => text.split('\n');

describe('a strip', () => {
  test('sets every row on one axis of 16 places, whose ends are the least and the greatest', () => {
    // From 0 to 15 a value is its own place.
    const [, , head = '', , a = '', b = '', c = ''] = lines(renderText(REPORT, look(80)));
    const at = head.indexOf('0··');
    expect(head.slice(at, at + 16)).toBe('0·············15');
    expect(a.slice(at).trimEnd()).toBe('───●───');
    expect(b.slice(at)).toBe('         ───●───');
    expect(c.trimEnd()).toBe('c');
  });

  test('keeps to ASCII where the look does', () => {
    const text = renderText(REPORT, look(80, false));
    expect(text).toContain('---o---');
    expect(text).toMatch(/^[\n -~]*$/);
  });

  test('goes first where the width does not suffice, and is not told as lost', () => {
    const text = renderText(REPORT, look(20));
    expect(text).not.toContain('●');
    expect(text).not.toContain('--columns');
  });

  test('is no figure: machines do not see it', () => {
    expect(lines(renderCsv(REPORT))[0]).toBe('name,low,high,mid');
  });

  test('is left out where there is nothing to compare', () => {
    const same = { ...REPORT, rows: [{ name: 'a', low: 4, mid: 4, high: 4 }] };
    expect(renderText(same, look(80))).not.toContain('●');
  });

  test('puts dates by their days', () => {
    const dated: Report = {
      ...REPORT,
      columns: REPORT.columns.map((column) =>
        column.key === 'name' ? column : { ...column, kind: 'date' as const },
      ),
      rows: [
        { name: 'a', low: '2026-07-01', mid: '2026-07-04', high: '2026-07-07' },
        { name: 'b', low: '2026-07-10', mid: '2026-07-13', high: '2026-07-16' },
      ],
    };
    const text = renderText(dated, look(100));
    expect(text).toContain('1 Jul·····16 Jul');
    expect(text).toContain('───●───');
  });
});
