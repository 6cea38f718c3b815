import fc from 'fast-check';

/** Parts that YAML, JavaScript, arithmetic, terminals or other programs treat apart. */
export const ODD_PIECES = [
  ...['0', '-0', '-1', '1', '0.0000001', '1000000', '999999999.5', '1e400', '.nan', '.inf', '0x10'],
  ...['007', '1_000', '99999999999999999999', '~', 'null', 'true', 'no', '""', "''", '[]', '{}'],
  ...['[', ']', '{', '}', ':', '- ', ', ', '#', '&a ', '*a', '!!str ', '|', '>', '%', '@', '`'],
  ...['---\n', '...\n', '\t', '\r', '\r\n', '\n', '\u0000', '\u001b[31m', '"\\e]0;x\\a"', '\u0085'],
  ...[
    '\u2028',
    '\u202e',
    '\u200b',
    '\ufeff',
    '\ud83d',
    '\ufffd',
    '🌳',
    'é',
    '日本',
    '=1+1',
    '@SUM(A1)',
  ],
  ...['__proto__', 'constructor', 'toString', 'hasOwnProperty', '<b>', '|', '**', '"', "'", '\\'],
  ...[
    '2026-02-30',
    '0000-01-01',
    '9999-12-31',
    '2026-01-01',
    '2025-12-31',
    '12:30',
    '1.5 lb',
    '38 in',
  ],
  ...['early', 'main', 'breba', 'G3', 'Y1', 'mara', 'glass', 'ripe', 'move', 'flavour', 'size'],
  ...['x'.repeat(300), ' '.repeat(300), '['.repeat(120), '9'.repeat(40), '"'],
];

/** Any characters at all, half of a pair among them. */
export const anything = (most: number) =>
  fc
    .array(fc.oneof(fc.nat({ max: 255 }), fc.nat({ max: 0xff_ff }), fc.nat({ max: 0x10_ff_ff })), {
      maxLength: most,
    })
    .map((codes) => String.fromCodePoint(...codes));

/** Something odd to put into a text. */
export const odd = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...ODD_PIECES) },
  { weight: 1, arbitrary: anything(6) },
);
