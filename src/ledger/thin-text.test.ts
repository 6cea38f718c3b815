import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thinText } from './thin-text.ts';
import { readThin, readWhole } from './yaml-read.ts';

const fileOf = (text: string) => ({ path: 'x.yaml', text, bom: false });

/** What the lines hold, to the order of the keys; undefined where the library has to read them. */
const thin = (text: string) => JSON.stringify(readThin(fileOf(text)));

describe('one-line entries', () => {
  it.each([
    ['- { a: 1 }', '[{"a":1}]'],
    ['a:\n- { b: 2.50, c: -3, d: 0 }\n- [x, y z]\n', '{"a":[{"b":2.5,"c":-3,"d":0},["x","y z"]]}'],
    [
      'a:\n  - { on: 2026-09-01, b: [1, 2], c: "7 #: x", d: it\'s (2/3) 50% }\r\n  - { a: 1 }  \r\n',
      '{"a":[{"on":"2026-09-01","b":[1,2],"c":"7 #: x","d":"it\'s (2/3) 50%"},{"a":1}]}',
    ],
    [
      'a:\n  # above\n  - { b: 1 }\n  # between\n  - b: 2\n    c: { d: e }\n  - { b: 3 }\nf: { g: h }\n',
      '{"a":[{"b":1},{"b":2,"c":{"d":"e"}},{"b":3}],"f":{"g":"h"}}',
    ],
    [
      'T2: { a: 1 }\n"1": { b: 2 }\nx: 5\nT1: { a: Åse }\n',
      '{"1":{"b":2},"T2":{"a":1},"x":5,"T1":{"a":"Åse"}}',
    ],
  ])('are read apart in %j', (text, json) => {
    expect(thinText(text)?.runs.size).toBeGreaterThan(0);
    expect(thin(text)).toBe(json);
    expect(JSON.stringify(readWhole(fileOf(text)).value)).toBe(json);
  });

  it.each([
    // Within a longer text they are words.
    'a: |\n  - { b: 1 }\n',
    'a: >-\n  b: { c: 1 }\n',
    'a: some\n  - { b: 1 }\n',
    'a: "some\n  - { b: 1 }\n  "\n',
    '- { a: 1 }\n  more\n',
    // Within brackets lines below one another need a comma.
    'a: {\n  b: { c: 1 }\n  d: { e: 1 }\n}\n',
    'a: [\n  - { b: 1 }\n]\n',
    // Keys that come twice, in a line, in a run, and in two runs of one map.
    '- { a: 1, a: 2 }',
    'b: { a: 1 }\nb: { a: 2 }\n',
    'b: { a: 1 }\nc: 1\nb: { a: 2 }\n',
    // Whole lists as keys.
    '? - { a: 1 }\n: 2\n',
    '?\n  - { a: 1 }\n: 2\n',
    // What has rules of its own.
    '- { a: 007 }',
    '- { a: 1e3 }',
    '- { a: -0 }',
    '- { a: 0x1f }',
    '- { a: null }',
    '- { a: True }',
    '- { a: ~ }',
    '- { a: }',
    '- { a: "b\\n" }',
    '- { a: &b c }',
    '- { a: b: c }',
    '- { a: b #c }',
    '- { "": 1 }',
    '- { __proto__: 1 }',
    '- { a: [1, 2 }',
    '- { a: 1 } b',
    '- { a: 1, }',
    '- { a: 12 oz }',
    `- { a: ${'['.repeat(2000)}1${']'.repeat(2000)} }`,
    '- { a: \ue000 }\n- { b: 1 }',
    '\ue0000: 0\n- { b: 1 }',
  ])('are left to the library in %j', (text) => {
    expect(readThin(fileOf(text))).toBeUndefined();
  });

  const piece = fc.constantFrom(
    ...['- { a: 1 }', '- { b: 2, c: [d, "e"] }', '- [f, 1.5]', 'g: { h: 1 }', 'i: [1]', 'j: 2'],
    ...[
      'T1: { k: l }',
      '"2": { m: n }',
      'o:',
      '- p: 1',
      '-',
      '- q',
      'r: |',
      's: >-',
      't: "u',
      'v"',
    ],
    ...['# w', '', '   ', '? x', ': y', 'z: {', '}', 'a: [', ']', 'a: b', '...', '---', "'c", 'd,'],
    ...[
      '- { a: 1 } # e',
      '- { a: 1 }, ',
      '&f',
      '- - { a: 1 }',
      '- g: { a: 1 }',
      '\t',
      '- |',
      '%h 1',
    ],
  );
  const line = fc.tuple(fc.constantFrom('', '', '  ', '  ', '    ', '      '), piece);
  const eol = fc.constantFrom('\n', '\n', '\r\n');

  it('mean the same as to the library, wherever they stand', () => {
    let apart = 0;
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 9 }), eol, (lines, end) => {
        const text = lines.map(([indent, what]) => `${indent}${what}${end}`).join('');
        const value = readThin(fileOf(text));
        if (value === undefined) return;
        apart++;
        const whole = readWhole(fileOf(text));
        expect(whole.diagnostics).toEqual([]);
        expect(JSON.stringify(value)).toBe(JSON.stringify(whole.value));
      }),
      { seed: 5, numRuns: 20_000 },
    );
    expect(apart).toBeGreaterThan(400);
  });
});
