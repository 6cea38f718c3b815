import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { LocatedDiagnostic } from './diagnostic.ts';
import { sortedDiagnostics } from './order.ts';

function diagnostic(path: string, start: number, rule: string, message = 'm'): LocatedDiagnostic {
  const file = { path, text: 'x'.repeat(99), bom: false };
  return {
    severity: 'error',
    rule,
    message,
    advice: '',
    at: { file, start, end: start + 1 },
    related: [],
  };
}

const brief = (one: LocatedDiagnostic): string => `${one.at.file.path}:${one.at.start} ${one.rule}`;

test('by file, then place as a number, then rule', () => {
  const mixed = [
    diagnostic('trees.yaml', 10, 'b'),
    diagnostic('trees.yaml', 9, 'z'),
    diagnostic('cultivars.yaml', 50, 'a'),
    diagnostic('trees.yaml', 10, 'a'),
  ];
  expect(sortedDiagnostics(mixed).map(brief)).toEqual([
    'cultivars.yaml:50 a',
    'trees.yaml:9 z',
    'trees.yaml:10 a',
    'trees.yaml:10 b',
  ]);
});

test('an exact repeat is dropped, also from a second reading of the file', () => {
  const twice = [diagnostic('a.yaml', 1, 'r'), diagnostic('a.yaml', 1, 'r')];
  expect(sortedDiagnostics(twice)).toHaveLength(1);
  expect(sortedDiagnostics([...twice, diagnostic('a.yaml', 1, 'r', 'other words')])).toHaveLength(
    2,
  );
});

test('the order does not depend on the order of arrival, and what came in stays as it was', () => {
  const some = fc.array(
    fc.tuple(fc.constantFrom('a.yaml', 'B.yaml', 'é.yaml'), fc.nat(3), fc.constantFrom('p', 'q')),
  );
  fc.assert(
    fc.property(some, (list) => {
      const diagnostics = list.map(([path, start, rule]) => diagnostic(path, start, rule));
      const before = diagnostics.map(brief);
      const sorted = sortedDiagnostics(diagnostics).map(brief);
      expect(sortedDiagnostics(diagnostics.toReversed()).map(brief)).toEqual(sorted);
      expect(diagnostics.map(brief)).toEqual(before);
      expect(new Set(sorted)).toEqual(new Set(before));
      expect(sorted.length).toBe(new Set(sorted).size);
    }),
  );
});
