import fc from 'fast-check';
import { expect, test } from 'vitest';
import { displayWidth } from './display-width.ts';
import { frameOf } from './frame.ts';
import type { Span } from './source-file.ts';

function spanOf(text: string, marked: string): Span {
  const start = text.indexOf(marked);
  return { file: { path: 'trees.yaml', text, bom: false }, start, end: start + marked.length };
}

test('the line before, the line, and marks under the span', () => {
  expect(frameOf(spanOf('trees:\n  G3: { site: yrad }\n', 'yrad'))).toEqual([
    { line: 1, text: 'trees:' },
    { line: 2, text: '  G3: { site: yrad }' },
    { text: '              ^^^^' },
  ]);
});

test('a blank line before is not shown', () => {
  expect(frameOf(spanOf('a: 1\n\nb: x\n', 'x')).map((one) => one.line)).toEqual([3, undefined]);
});

test('marks stand under wide characters', () => {
  expect(frameOf(spanOf('日本: 本 x', '本 x'))).toEqual([
    { line: 1, text: '日本: 本 x' },
    { text: '      ^^^^' },
  ]);
});

test('an empty span, and one at the end of the file, get one mark', () => {
  const text = 'a: 1\nb:';
  const file = { path: 'a.yaml', text, bom: false };
  expect(frameOf({ file, start: 7, end: 7 }).at(-1)).toEqual({ text: '  ^' });
  expect(frameOf({ file, start: 0, end: 0 }).at(-1)).toEqual({ text: '^' });
});

test('a span over several lines is marked to the end of its first line', () => {
  expect(frameOf(spanOf('a: [1,\r\n  2]', '[1,\r\n  2]')).at(-1)).toEqual({ text: '   ^^^' });
});

test('a long line is cut around the span', () => {
  const text = `${'a'.repeat(200)}HERE${'b'.repeat(200)}`;
  const [line, marks] = frameOf(spanOf(text, 'HERE'), 30);
  expect(line?.text).toBe('…aaaaaaaaaHEREbbbbbbbbbbbbbbb…');
  expect(marks?.text).toBe('          ^^^^');
});

test('control characters of the file do not reach the frame', () => {
  const frame = frameOf(spanOf('n: "\u001b[2Jx"', 'x'));
  expect(frame.map((one) => one.text).join('')).not.toContain('\u001b');
  expect(frame.at(-1)?.text.length).toBe('n: "\\u{1b}[2Jx'.length);
});

test('no line is wider than asked, and the marks lie within the line', () => {
  const unit = fc.oneof(
    fc.constantFrom('a', ' ', '日', 'e\u0301', '\t', '\u001b', '\n'),
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 1 }),
  );
  const text = fc.array(unit, { maxLength: 200 }).map((units) => units.join(''));
  fc.assert(
    fc.property(
      text,
      fc.nat(200),
      fc.nat(60),
      fc.integer({ min: 12, max: 80 }),
      (one, from, length, width) => {
        const start = Math.min(from, one.length);
        const file = { path: 'a.yaml', text: one, bom: false };
        for (const line of frameOf({ file, start, end: start + length }, width)) {
          expect(displayWidth(line.text)).toBeLessThanOrEqual(
            width + (line.line === undefined ? 1 : 0),
          );
          if (line.line === undefined) expect(line.text).toMatch(/^ *\^+$/);
        }
      },
    ),
    { numRuns: 500 },
  );
});

test('a line of a megabyte costs no more than a short one', () => {
  const text = `${'日a'.repeat(500_000)}HERE${'b'.repeat(500_000)}`;
  const started = performance.now();
  for (let run = 0; run < 20; run++) frameOf(spanOf(text, 'HERE'));
  // Takes about 0.2 s; cutting the whole line into characters takes minutes.
  expect(performance.now() - started).toBeLessThan(5000);
});
