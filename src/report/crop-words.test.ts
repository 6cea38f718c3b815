import { describe, expect, test } from 'vitest';
import { builtReport, REPORT_NAMES } from '../../tests/support/all-reports.ts';
import { ledgerFrom } from '../../tests/support/ledger-from.ts';
import { SMALL_EXAMPLE } from '../../tests/support/small-example.ts';
import type { Crop } from '../model/ledger.ts';
import { renderReport } from '../render/render-report.ts';
import { rankReport } from './judged/rank-report.ts';

const ledger = ledgerFrom(SMALL_EXAMPLE);

/** The words of the column headed Crop, row by row; undefined without such a column. */
function cropCells(text: string): readonly string[] | undefined {
  const lines = text.split('\n');
  const rule = lines.findIndex((line) => /^─+( |$)/u.test(line));
  const at = lines[rule - 1]?.search(/\bCrop\b/u) ?? -1;
  if (at < 0) return undefined;
  const end = lines.indexOf('', rule);
  return lines
    .slice(rule + 1, end)
    .map((line) => line.slice(at).split(/\s/u)[0] ?? '')
    .filter((word) => word !== '');
}

describe('a table with both crops', async () => {
  const withCrop: string[] = [];
  for (const name of REPORT_NAMES) {
    const { rows } = await builtReport(name, ledger);
    if (rows.some((row) => row['crop'] === 'early')) withCrop.push(name);
  }

  test('is looked at in every command that has one', () => {
    expect(withCrop).toEqual(expect.arrayContaining(['yield', 'weights', 'rank', 'verdict']));
  });

  test.each(withCrop)(
    'tells the crop at every width, in the words of the ledger: %s',
    async (name) => {
      const report = await builtReport(name, ledger);
      const shown = report.rows.slice(0, report.rows.length - (report.machineRows ?? 0));
      const words = shown.map((row) => ledger.trial.cropNames[row['crop'] as Crop]);
      for (const width of [40, 60, 80, 100, 160]) {
        const look = { unicode: true, colorLevel: 0, width } as const;
        const text = await renderReport(report, 'text', look);
        const [only, ...others] = new Set(words);
        if (others.length === 0) {
          expect(text.replace(/\s+/g, ' '), `${width} columns`).toContain(`, ${only} crop,`);
        } else if (report.screen?.columns.some(({ key }) => key === 'crop') === false) {
          // Both crops stand in one row, each under its own head.
          expect(text, `${width} columns`).toMatch(/Breba[\s\S]*Main/);
        } else {
          expect(new Set(cropCells(text)), `${width} columns`).toEqual(new Set(words));
        }
      }
    },
  );

  test('says early to machines', async () => {
    const look = { unicode: true, colorLevel: 0, width: 80 } as const;
    const text = await renderReport(await builtReport('yield', ledger), 'csv', look);
    expect(text).toContain(',early,');
    expect(text).not.toContain('breba');
  });
});

test('a table of one crop says it in the title alone', async () => {
  const request = { selection: { crops: ['main' as const] }, by: [], confidence: 0.95 };
  const look = { unicode: true, colorLevel: 0, width: 160 } as const;
  const text = await renderReport(rankReport(ledger, request), 'text', look);
  expect(text).toMatch(/^Rank, main crop, .*\n/u);
  expect(cropCells(text)).toBeUndefined();
});
