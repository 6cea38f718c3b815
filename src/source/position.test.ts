import fc from 'fast-check';
import { expect, test } from 'vitest';
import { lineStarts, lineText, offsetOfLine, positionAt } from './position.ts';
import type { SourceFile } from './source-file.ts';

const file = (text: string): SourceFile => ({ path: 'trees.yaml', text, bom: false });

test('lines end at LF, CRLF and a lone CR (YAML 1.2.2, 5.4)', () => {
  const mixed = file('a\nbc\r\nd\re');
  expect(lineStarts(mixed)).toEqual([0, 2, 6, 8]);
  expect([1, 2, 3, 4, 5].map((line) => lineText(mixed, line))).toEqual(['a', 'bc', 'd', 'e', '']);
});

test('an empty file has one empty line', () => {
  expect(lineStarts(file(''))).toEqual([0]);
  expect(positionAt(file(''), 0)).toEqual({ line: 1, column: 1 });
});

test('columns count UTF-16 units', () => {
  expect(positionAt(file('日本🍇x'), 4)).toEqual({ line: 1, column: 5 });
});

test('an offset outside the file is brought to its nearest end', () => {
  const two = file('ab\ncd');
  expect(positionAt(two, -3)).toEqual({ line: 1, column: 1 });
  expect(positionAt(two, 99)).toEqual({ line: 2, column: 3 });
  expect(offsetOfLine(two, 9)).toBe(5);
});

test('the place of every offset leads back to it', () => {
  const text = fc.string({ unit: fc.constantFrom('a', ':', '\n', '\r', '日', '🍇') });
  fc.assert(
    fc.property(text, (written) => {
      const one = file(written);
      for (let offset = 0; offset <= written.length; offset++) {
        const { line, column } = positionAt(one, offset);
        expect(offsetOfLine(one, line) + column - 1).toBe(offset);
      }
    }),
  );
});

test('the line of an offset is one more than the line ends before it', () => {
  const text = fc.string({ unit: fc.constantFrom('a', '\n', '\r\n') });
  fc.assert(
    fc.property(text, fc.nat(60), (written, offset) => {
      const before = written.slice(0, offset).replace(/\r$/, '');
      const ends = before.split('\n').length - 1;
      expect(positionAt(file(written), Math.min(offset, written.length)).line).toBe(ends + 1);
    }),
  );
});
