import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anyText, STEERING } from '../../tests/support/report-arbitrary.ts';
import type { LocatedDiagnostic, Severity } from '../diagnostics/diagnostic.ts';
import { displayWidth } from '../source/display-width.ts';
import type { Span } from '../source/source-file.ts';
import { renderDiagnostics, summaryOf } from './diagnostics-text.ts';

const look = { width: 80, colorLevel: 0, unicode: true } as const;

function spanOf(path: string, text: string, marked: string): Span {
  const start = text.indexOf(marked);
  return { file: { path, text, bom: false }, start, end: start + marked.length };
}

const season = 'season: 2026\npicks:\n  - { on: 2026-07-24, tree: G33, crop: early, fruit: 3 }\n';
const unknown: LocatedDiagnostic = {
  severity: 'error',
  rule: 'tree-unknown',
  message: 'no tree is called G33',
  advice: 'write G3, or add G33 to trees.yaml',
  at: spanOf('seasons/2026.yaml', season, 'G33'),
  related: [{ at: spanOf('trees.yaml', 'G3: { site: yard }\n', 'G3'), label: 'G3 is here' }],
};
const ofSeverity = (severity: Severity, rule: string): LocatedDiagnostic => ({
  ...{ severity, rule, message: 'm', advice: '', related: [], at: unknown.at },
});

test('where, what, the place marked, what to type, related places, how many', () => {
  expect(renderDiagnostics([unknown], look).split('\n')).toEqual([
    'seasons/2026.yaml:3:29 error tree-unknown',
    '  no tree is called G33',
    '    2 | picks:',
    '  > 3 |   - { on: 2026-07-24, tree: G33, crop: early, fruit: 3 }',
    '      |                             ^^^',
    '  try: write G3, or add G33 to trees.yaml',
    '  see: trees.yaml:1:1 G3 is here',
    '',
    '1 error',
    '',
  ]);
});

test('line numbers of different length stand under each other', () => {
  const text = `${'a: 1\n'.repeat(9)}b: x\n`;
  const lines = renderDiagnostics([{ ...unknown, at: spanOf('t.yaml', text, 'b') }], look);
  expect(lines.split('\n').slice(2, 5)).toEqual(['     9 | a: 1', '  > 10 | b: x', '       | ^']);
});

test('the summary counts each kind', () => {
  const some = (['error', 'error', 'warning', 'hint', 'hint', 'hint'] as const).map((one) =>
    ofSeverity(one, 'r'),
  );
  expect(summaryOf(some)).toBe('2 errors, 1 warning, 3 hints');
  expect(renderDiagnostics([], look)).toBe('no errors, warnings or hints\n');
});

test('a cap shows the gravest, in their order, and says how many more there are', () => {
  const some = [
    ...[ofSeverity('hint', 'a'), ofSeverity('error', 'b')],
    ...[ofSeverity('warning', 'c'), ofSeverity('error', 'd')],
  ];
  const text = renderDiagnostics(some, look, { atMost: 3 });
  expect([...text.matchAll(/:\d+:\d+ \w+ (\w)$/gm)].map(([, rule]) => rule)).toEqual([
    'b',
    'c',
    'd',
  ]);
  expect(text).toMatch(/\n\nand 1 more: 2 errors, 1 warning, 1 hint\n$/);
});

test('severities have colours where there are any', () => {
  const text = renderDiagnostics([unknown], { ...look, colorLevel: 1 });
  expect(text).toContain('\u001b[31m');
  expect(renderDiagnostics([unknown], look)).not.toContain('\u001b');
});

test('whatever a file holds: within the width and without escapes', () => {
  const any = fc.record({ text: anyText, message: anyText, advice: anyText, label: anyText });
  fc.assert(
    fc.property(
      any,
      fc.nat(40),
      fc.nat(9),
      fc.integer({ min: 30, max: 120 }),
      (one, from, length, width) => {
        const file = { path: 'a.yaml', text: one.text, bom: false };
        const start = Math.min(from, one.text.length);
        const at = { file, start, end: Math.min(start + length, one.text.length) };
        const diagnostic = { ...unknown, ...one, at, related: [{ at, label: one.label }] };
        const text = renderDiagnostics([diagnostic], { ...look, width });
        expect(text).not.toMatch(STEERING);
        for (const line of text.split('\n'))
          expect(displayWidth(line)).toBeLessThanOrEqual(width + 1);
      },
    ),
    { numRuns: 300 },
  );
});
