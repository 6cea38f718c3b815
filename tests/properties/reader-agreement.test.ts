import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editing, fast } from '../support/both-readers.ts';
import { mutated } from '../support/mutations.ts';
import { SMALL_EXAMPLE } from '../support/small-example.ts';

/** YAML of every kind that a ledger may hold. Both readers must take it, for the same. */
const TAKEN = [
  // Scalars of the core schema (YAML 1.2.2, 10.3).
  ...['a: 1', 'a: -1', 'a: +1', 'a: 0', 'a: -0', 'a: 1.50', 'a: .5', 'a: 5.', 'a: -.5', 'a: 0.0'],
  ...[
    'a: true',
    'a: True',
    'a: FALSE',
    'a: yes',
    'a: No',
    'a: on',
    'a: y',
    'a: null',
    'a: ~',
    'a: Null',
  ],
  ...[
    'a:',
    'a: ""',
    "a: ''",
    'a: 12:30',
    'a: 2026-07-24',
    'a: 2026-07-24T10:00:00Z',
    'a: 1,5',
    'a: 7%',
  ],
  ...[
    'a: 12 oz',
    'a: 1.5 lb',
    'a: "007"',
    "a: '0x10'",
    'a: 1.2.3',
    'a: 1e',
    'a: e5',
    'a: .',
    'a: -',
    'a: +',
  ].filter((text) => text !== 'a: -'),
  ...[
    'a: infinity',
    'a: nan',
    'a: NaN',
    'a: =',
    'a: <<',
    'a: a=b',
    'a: -a',
    'a: ?a',
    'a: :a',
    'a: a:b',
  ],
  // Plain text with signs in it, and how a comment begins.
  ...[
    'a: b c  d',
    'a: b # c',
    'a: b#c',
    'a: b #c',
    'a: [b#c, d]',
    'a: b, c',
    'a: b [c]',
    'a: {b: c d}',
  ],
  ...[
    "a: it's",
    'a: say "so"',
    'a: 5" pot',
    'a: http://x.y/z',
    'a: C:\\x',
    'a: é日本🌳',
    'a: b\u00a0c',
  ],
  // Quotes.
  ...[
    "a: 'it''s'",
    'a: "\\u00e9\\x41\\t\\\\\\"\\/\\e\\0\\N\\_\\L\\P"',
    'a: "\\U0001F333"',
    "a: 'b\\n'",
    '"a b": 1',
  ],
  ...["'a': 1", '"": 1', '"007": 1', "'~': 1", '"a": "b: c # d"', 'a: "b\\\n  c"'],
  // Text over several lines.
  ...[
    'a: b\n  c\n\n  d',
    'a: "b\n  c\n\n  d"',
    "a: 'b\n  c'",
    'a: |\n  b\n  c\n',
    'a: |\n  b\n   c\n\n  d\n\n',
  ],
  ...[
    'a: |-\n  b\n',
    'a: |+\n  b\n\n',
    'a: >\n  b\n  c\n\n  d\n',
    'a: >-\n  b\n   c\n  d\n',
    'a: >+\n  b\n\nc: 1',
  ],
  ...[
    'a: |2\n    b\n   c\n',
    'a: |\n  # b\nc: 1',
    'a: |\n\n  b\n',
    '- |\n b\n- >\n c\n',
    'a: |  # c\n  b\n',
    'a: |\n b',
  ],
  // Maps and lists, block and flow.
  ...[
    'a: 1\nb: 2',
    'a:\n  b:\n    c: 1',
    'a:\n- 1\n- 2',
    'a:\n  - 1\n  - b: 2\n    c: 3',
    '- - 1\n  - 2\n- 3',
    '-\n  a: 1',
  ],
  ...[
    '- \n- a',
    'a: []',
    'a: {}',
    'a: [1, 2, ]',
    'a: { b: 1, }',
    'a: [[1], [2, 3]]',
    'a: { b: { c: [1] } }',
    '{}',
    '[]',
  ],
  ...[
    'a: [b: 1, c]',
    'a: { b, c: }',
    'a: { b: , c: 1 }',
    'a: ["b", \'c\', d e]',
    '{"a":1,"b":[2]}',
    'a: [1,2,3]',
  ],
  ...[
    'a: [1,\n  2, # c\n  3]',
    'a: {\n  b: 1,\n  c: 2\n  }',
    '? a\n: b',
    '? a',
    'a : 1',
    'a:   1',
    '5: 1\n1.5: 2\ntrue: 3\nnull: 4',
  ],
  ...[
    'constructor: 1\ntoString: 2',
    '<<: { a: 1 }',
    '- a: 1\n  b: 2\n- { a: 1, b: 2 }',
    'a: {b: 1}\nc: {"d": 1}',
  ],
  // Entries and sittings as people type them, and what only looks like entries.
  ...[
    'a:\n- { b: 2.50, c: -3, d: 0 }\n- [x, y z]\n',
    'a:\n  - { on: 2026-09-01, b: [1, 2], c: "7 #: x", d: it\'s (2/3) 50% }\r\n  - { a: 1 }  \r\n',
    'a:\n  # above\n  - { b: 1 }\n  # between\n  - b: 2\n    c: { d: e }\n  - { b: 3 }\nf: { g: h }\n',
    'a:\n  - on: 2026-09-01 \n    b:\n      - { c: 1 }\n      - d: e f\n        g: [h]\n      - -2.5\n    "i":  "j"\n# k\n\n  - l: 1\n',
    '- a: b\r\n  c:  \r\n    d: 1\r\n- { e: 2 }',
    'T2: { a: 1 }\n"1": { b: 2 }\nx: 5\nT1: { a: Åse }\n',
    'a: |\n  - { b: 1 }\n',
    'a: >-\n  b: { c: 1 }\n',
    'a: "some\n  - { b: 1 }\n  "\n',
    '- a: b\n  # c\n  d: 1\n',
  ],
  // Comments, blank lines, marks of a document, line ends.
  ...[
    '# c\na: 1 # c\n# c\n',
    '\n\na: 1\n\n\nb: 2\n\n',
    '---\na: 1\n',
    '--- # c\na: 1\n',
    '--- a',
    'a: 1\n...\n',
    'a: 1\n...\n# c\n',
  ],
  ...[
    'a: 1\r\nb:\r\n  - 2\r\n',
    'a: |\r\n  b\r\n  c\r\n',
    'a: "b\r\n  c"',
    '',
    '# c',
    '\n',
    'a:\tb',
    'a: b\t# c',
    '- \ta',
  ],
];

/** What neither reader takes. */
const REFUSED_BY_BOTH = [
  ...[
    'a: 1\na: 2',
    '{a: 1, a: 2}',
    'a: 1\n"a": 2',
    '5: 1\n"5": 2',
    'a: b: c',
    'a: - b',
    'a: [1',
    'a: {b: 1',
    'a: ]',
  ],
  ...[
    'a: "b',
    "a: 'b",
    'a: "\\q"',
    'a: 1\n b: 2',
    'a:\n  - 1\n - 2',
    '\ta: 1',
    'a:\n\t- 1',
    'a: @b',
    'a: `b`',
    'a: %b',
  ],
  ...['a\nb: 1', '- a\nb: 1', 'a: "b" c', '? [a]\n: 1', '{a: 1}: 2', 'a: *b', 'a: [1,,2]', '"a":b'],
  ...['a: |\nb', 'a: >x\n  b', '\t\na: [', 'a: &b *b'],
  ...[
    '- { a: 1 }\n  more\n',
    'a: some\n  - { b: 1 }\n',
    '- a: b\n   c: 1\n',
    '- a:\n    b: 1\n   c: 2\n',
    'a: {\n  b: { c: 1 }\n  d: { e: 1 }\n}\n',
    'a: [\n  - { b: 1 }\n]\n',
    'b: { a: 1 }\nc: 1\nb: { a: 2 }\n',
    '- a: 1\n  b: { c: 1 } d\n',
  ],
];

/** Legal YAML, or nearly, that a ledger may not hold: refused before the editing reader matters. */
const REFUSED_BY_THE_LEDGER: Readonly<Record<string, readonly string[]>> = {
  'yaml-anchor': ['a: &b 1', '- &a { b: 1 }\n- 2'],
  'yaml-tag': ['a: !!str 1', 'a: !b c', 'a: !!set { b }'],
  'yaml-directive': ['%YAML 1.1\n---\na: no', '%TAG ! x\n---\na: 1'],
  // With its log silent the editing reader takes the first of several documents without a word.
  'yaml-documents': [
    'a: 1\n---\nb: 2',
    '...\na: 1',
    '---\n...\na: 1',
    'a: 1\n...\nb: 2',
    '... 1a: ""',
  ],
  'number-odd': [
    'a: 007',
    'a: 0x1F',
    'a: 0o17',
    'a: 1e3',
    'a: .inf',
    'a: .NaN',
    'a: 12345678901234567890',
    '1.10: a',
    '1.0: a',
    '+1: a',
  ],
  'key-wrong': ['~: a', ': a', 'True: a', 'NULL: a', '"__proto__": a', '{ : a }'],
  'yaml-tab': ['a:\n\t', 'a: 1\n \t \nb: 2'],
  'yaml-syntax': [
    'a: [1,\t2]',
    '- [\n]',
    'a: 1\rb: 2',
    'a: b\u0000c',
    'a: b\u001bc',
    'a: b\u007fc',
    '- ['.repeat(40),
  ],
};

/**
 * Where the readers do differ: text blocks of nothing but blanks at the very end of a file. What is
 * lost is blanks, in a note that has nothing else.
 */
const DIFFERENT: readonly (readonly [text: string, fast: unknown, editing: unknown])[] = [
  ['a: |2\n    ', { a: '  \n' }, { a: '' }],
  ['a: >+\n\n ', { a: '\n\n' }, { a: '\n' }],
];

describe('the reader for reports and the reader for tidying', () => {
  it.each(TAKEN)('take %j for the same', (text) => {
    const read = fast(text);
    expect(read).toHaveProperty('value');
    expect(editing(text)).toEqual(read);
  });

  it.each(REFUSED_BY_BOTH)('both refuse %j', (text) => {
    expect(fast(text)).toHaveProperty('refused');
    expect(editing(text)).toHaveProperty('refused');
  });

  it.each(Object.entries(REFUSED_BY_THE_LEDGER))(
    'leave what %s refuses to the ledger',
    (rule, texts) => {
      for (const text of texts) expect([text, fast(text)]).toEqual([text, { refused: rule }]);
    },
  );

  it.each(DIFFERENT)('differ over %j, which no editor leaves', (text, one, other) => {
    expect(fast(text)).toEqual({ value: one });
    expect(editing(text)).toEqual({ value: other });
  });

  it('agree over the small example, and over whatever it is broken into that can be read', () => {
    for (const text of Object.values(SMALL_EXAMPLE)) {
      if (!text.startsWith('date')) expect(editing(text)).toEqual(fast(text));
    }
    let taken = 0;
    fc.assert(
      fc.property(mutated(SMALL_EXAMPLE), (files) => {
        for (const [path, text] of Object.entries(files)) {
          if (!path.endsWith('.yaml') || text === SMALL_EXAMPLE[path]) continue;
          // A file is UTF-8, in which half a pair cannot stand.
          const bare = Buffer.from(text.replace(/^\ufeff/, '')).toString();
          const read = fast(bare);
          if ('refused' in read) continue;
          taken++;
          expect(editing(bare)).toEqual(read);
        }
      }),
      { numRuns: 500, seed: 20_260_729 },
    );
    expect(taken).toBeGreaterThan(300);
  });
});
