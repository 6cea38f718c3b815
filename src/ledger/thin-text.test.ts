import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thinText } from './thin-text.ts';
import { readThin, readWhole } from './yaml-read.ts';

const fileOf = (text: string) => ({ path: 'x.yaml', text, bom: false });

/** What the lines hold, to the order of the keys; undefined where the library has to read them. */
const thin = (text: string) => JSON.stringify(readThin(fileOf(text)));

describe('plain entries', () => {
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
      'a:\n  - on: 2026-09-01 \n    b:\n      - { c: 1 }\n      - d: e f\n        g: [h]\n      - -2.5\n    "i":  "j"\n# k\n\n  - l: 1\n',
      '{"a":[{"on":"2026-09-01","b":[{"c":1},{"d":"e f","g":["h"]},-2.5],"i":"j"},{"l":1}]}',
    ],
    ['- a: b\r\n  c:  \r\n    d: 1\r\n- { e: 2 }', '[{"a":"b","c":{"d":1}},{"e":2}]'],
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
    '- a: b\n   c: 1\n',
    '- a: b\n  # c\n  d: 1\n',
    '- a: b\n\n  c: 1\n',
    '- a:\n  - b\n',
    '- a:\n- b: &c\n',
    '- a:\n    b: 1\n   c: 2\n',
    '- a: b\n  c\n',
    '- a: b,\n',
    '- a: [b]\n    c\n',
    '- a: 1\n  b: 2\n  a: 3\n',
    '- a: 1\n  b: { c: 1 } d\n',
    '-  a: 1\n   b: 2 #\n',
    'a:\n{ b: 1 }\n',
    `- ${'a'.repeat(1100)}: 1\n  b: 2\n`,
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

  it('are taken as known where the same lines come again, and mean the same', () => {
    const known = new Map();
    const old = 'a:\n  - { b: 1 }\n  - { b: 2 }\n  - c: 3\n    d: [4]\n';
    const again = `${old}  - { b: 2 }\n- { b: 1 }\n`;
    const [first] = (readThin(fileOf(old), known) as { a: unknown[] }).a;
    expect([...known.keys()]).toEqual(['  - { b: 1 }\n', '  - { b: 2 }\n']);
    const read = readThin(fileOf(old.replace('a:', 'e:')), known) as { e: unknown[] };
    expect(read.e[0]).toBe(first);
    expect(read).toEqual({ e: [{ b: 1 }, { b: 2 }, { c: 3, d: [4] }] });
    // Known or not, a line must stand where it is an entry.
    expect(readThin(fileOf(again), known)).toBeUndefined();
    expect(readThin(fileOf('a: |\n  - { b: 1 }\n'), known)).toBeUndefined();
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
      '- a: b',
      '- a: b c',
      '- x:',
      'k: v w',
      'l: 3',
      'm: "n"',
      'k:',
      '- 5',
      '- n o',
      'p q',
      '\t',
      '- |',
      '%h 1',
    ],
  );
  const line = fc.tuple(fc.constantFrom('', '', '  ', '  ', '    ', '      '), piece);
  const eol = fc.constantFrom('\n', '\n', '\r\n');

  /** Counts how many of some texts are read apart, and holds those against the library. */
  function heldAgainstLibrary(texts: fc.Arbitrary<string>, numRuns: number): number {
    let apart = 0;
    fc.assert(
      fc.property(texts, (text) => {
        const value = readThin(fileOf(text));
        if (value === undefined) return;
        apart++;
        const whole = readWhole(fileOf(text));
        expect(whole.diagnostics).toEqual([]);
        expect(JSON.stringify(value)).toBe(JSON.stringify(whole.value));
      }),
      { seed: 5, numRuns },
    );
    return apart;
  }

  it('mean the same as to the library, wherever they stand', () => {
    const texts = fc
      .tuple(fc.array(line, { minLength: 1, maxLength: 9 }), eol)
      .map(([lines, end]) => lines.map(([indent, what]) => `${indent}${what}${end}`).join(''));
    expect(heldAgainstLibrary(texts, 20_000)).toBeGreaterThan(400);
  });

  /** Lines of a map or list below one another, each with how far in it stands. */
  type Lines = readonly (readonly [indent: number, text: string])[];
  const deeper = (lines: Lines, by: number): Lines => lines.map(([at, text]) => [at + by, text]);
  const value = fc.constantFrom('1', 'b c', '"d"', '{ e: 2 }', '[f, 3]', '2026-09-01');
  const { map } = fc.letrec<{ map: Lines; list: Lines }>((tie) => ({
    map: fc
      .array(
        fc.tuple(
          fc.constantFrom('a', 'b', 'c', '"d"', 'E1'),
          fc.oneof({ maxDepth: 3 }, value, tie('list'), tie('map')),
        ),
        { minLength: 1, maxLength: 3 },
      )
      .map((pairs) =>
        pairs.flatMap(([key, what]): Lines => {
          if (typeof what === 'string') return [[0, `${key}: ${what}`]];
          return [[0, `${key}:`], ...deeper(what as Lines, 2)];
        }),
      ),
    list: fc
      .array(fc.oneof({ maxDepth: 3 }, value, tie('map')), { minLength: 1, maxLength: 3 })
      .map((items) =>
        items.flatMap((item): Lines => {
          if (typeof item === 'string') return [[0, `- ${item}`]];
          const [[, first] = [0, ''], ...rest] = item as Lines;
          return [[0, `- ${first}`], ...deeper(rest, 2)];
        }),
      ),
  }));
  const slip = fc.tuple(
    fc.nat(),
    fc.constantFrom<(line: readonly [number, string]) => Lines>(
      (line) => [line],
      ([at, text]) => [[at + 1, text]],
      ([at, text]) => [[at + 2, text]],
      ([at, text]) => [[Math.max(0, at - 2), text]],
      (line) => [line, [line[0] + 2, '# below']],
      (line) => [line, [0, '']],
      (line) => [line, line],
      ([at, text]) => [[at, `${text} #`]],
      ([at, text]) => [[at, `${text}  `]],
      () => [],
    ),
  );

  it('mean the same as to the library over several lines, also with a slip in them', () => {
    const texts = fc
      .tuple(fc.array(map, { minLength: 1, maxLength: 3 }), slip, eol)
      .map(([items, [where, slipped], end]) => {
        const lines: Lines = items.flatMap(
          ([[, first] = [0, ''], ...rest]): Lines => [[2, `- ${first}`], ...deeper(rest, 4)],
        );
        const made = lines.flatMap((one, at) =>
          at === where % lines.length ? slipped(one) : [one],
        );
        return `z:${end}${made.map(([at, text]) => `${' '.repeat(at)}${text}${end}`).join('')}`;
      });
    expect(heldAgainstLibrary(texts, 8_000)).toBeGreaterThan(800);
  });
});
