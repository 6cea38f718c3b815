import { expect, test } from 'vitest';
import type { LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { renderDiagnosticsJson } from './diagnostics-json.ts';

const file = { path: 'trees.yaml', text: 'G3:\n  site: 日本 yrad\n', bom: false };
const diagnostic: LocatedDiagnostic = {
  severity: 'warning',
  rule: 'site-unknown',
  message: 'no site is called "yrad\u009b"',
  advice: '',
  at: { file, start: 15, end: 19 },
  related: [{ at: { file, start: 0, end: 2 }, label: 'of this tree' }],
};

test('every place has file, line, column and length', () => {
  const text = renderDiagnosticsJson([diagnostic]);
  expect(JSON.parse(text)).toEqual({
    diagnostics: [
      {
        ...{ severity: 'warning', rule: 'site-unknown', message: diagnostic.message, advice: '' },
        ...{ file: 'trees.yaml', line: 2, column: 12, length: 4 },
        related: [{ label: 'of this tree', file: 'trees.yaml', line: 1, column: 1, length: 2 }],
      },
    ],
    errors: 0,
    warnings: 1,
    hints: 0,
  });
  expect(text).not.toContain('\u009b');
});

test('nothing to say is an empty list', () => {
  expect(JSON.parse(renderDiagnosticsJson([]))).toEqual({
    ...{ diagnostics: [], errors: 0, warnings: 0, hints: 0 },
  });
});
