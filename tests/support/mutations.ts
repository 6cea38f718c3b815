import fc from 'fast-check';

export type Texts = Readonly<Record<string, string>>;

/** A change to one file of a ledger, told so that a failing case can be read. */
type Change = (files: Texts) => Texts;

/** Parts that YAML, JavaScript, arithmetic, terminals or other programs treat apart. */
const ODD_PIECES = [
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
const anything = (most: number) =>
  fc
    .array(fc.oneof(fc.nat({ max: 255 }), fc.nat({ max: 0xff_ff }), fc.nat({ max: 0x10_ff_ff })), {
      maxLength: most,
    })
    .map((codes) => String.fromCodePoint(...codes));

const odd = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...ODD_PIECES) },
  { weight: 1, arbitrary: anything(6) },
);
/** A share of a whole, to be turned into a place once the whole is known; every place alike. */
const share = fc.noBias(fc.nat({ max: 999_999 })).map((part) => part / 1_000_000);

function inFile(share: number, change: (text: string) => string): Change {
  return (files) => {
    // Most of what people type, and so most slips, is in the season files.
    const paths = Object.keys(files).flatMap((path) =>
      path.startsWith('seasons/') ? [path, path, path] : [path],
    );
    const path = paths[Math.floor(share * paths.length)];
    return path === undefined ? files : { ...files, [path]: change(files[path] ?? '') };
  };
}

/** Cuts some characters out at a place and puts others in. */
const characters = fc
  .tuple(share, share, fc.integer({ min: 0, max: 4 }), odd)
  .map(([file, at, cut, put]) =>
    inFile(file, (text) => {
      const place = Math.floor(at * text.length);
      return text.slice(0, place) + put + text.slice(place + cut);
    }),
  );

/** Words, numbers, signs and blanks: one is left out, doubled, swapped with the next or replaced. */
const tokens = fc
  .tuple(share, share, fc.constantFrom('drop', 'double', 'swap', 'replace'), odd)
  .map(([file, at, how, put]) =>
    inFile(file, (text) => {
      const parts = text.match(/[\p{L}\p{N}_.-]+|\s+|[^\p{L}\p{N}\s]/gu) ?? [];
      const place = Math.floor(at * parts.length);
      const [here = '', next = ''] = parts.slice(place, place + 2);
      const instead = {
        drop: [next],
        double: [here, here, next],
        swap: [next, here],
        replace: [put, next],
      };
      parts.splice(place, 2, ...instead[how]);
      return parts.join('');
    }),
  );

/** Lines: one is left out, doubled, moved, set in or out, or joined to the next. */
const lines = fc
  .tuple(share, share, share, fc.constantFrom('drop', 'double', 'move', 'in', 'out', 'join', 'cut'))
  .map(([file, at, to, how]) =>
    inFile(file, (text) => {
      const all = text.split('\n');
      const place = Math.floor(at * all.length);
      const here = all[place] ?? '';
      if (how === 'cut') return all.slice(0, place).join('\n');
      if (how === 'move') {
        all.splice(place, 1);
        all.splice(Math.floor(to * all.length), 0, here);
        return all.join('\n');
      }
      const next = all[place + 1] ?? '';
      const instead = {
        drop: [next],
        double: [here, here, next],
        in: [`  ${here}`, next],
        out: [here.replace(/^ {1,2}/, ''), next],
        join: [here + next],
      };
      all.splice(place, 2, ...instead[how]);
      return all.join('\n');
    }),
  );

/** One value behind a colon or in a list becomes another: most of these ledgers can be read. */
const values = fc
  .tuple(
    share,
    share,
    fc.oneof(
      fc.constantFrom(...ODD_PIECES),
      fc.integer({ min: -2, max: 2000 }).map(String),
      fc
        .double({ min: 0, max: 2000, noNaN: true })
        .map((value) => String(Number(value.toFixed(3)))),
      anything(12).map((text) => JSON.stringify(text)),
    ),
  )
  .map(([file, at, put]) =>
    inFile(file, (text) => {
      const places = [...text.matchAll(/(?<=: |\[|, )[^\s,:{}[\]]+(?=\s*[,\n}\]])/g)];
      const found = places[Math.floor(at * places.length)];
      if (found === undefined) return text;
      return text.slice(0, found.index) + put + text.slice(found.index + found[0].length);
    }),
  );

/** Numbers alone, so that what is read is odd but sound. */
const numbers = fc
  .tuple(
    share,
    share,
    fc.constantFrom('0', '1', '2', '3', '7', '0.5', '0.001', '1000', '100000', '999999'),
  )
  .map(([file, at, put]) =>
    inFile(file, (text) => {
      const places = [...text.matchAll(/(?<=[:,[] ?)\d+(?:\.\d+)?(?=[,\n}\] ])/g)];
      const found = places[Math.floor(at * places.length)];
      if (found === undefined) return text;
      return text.slice(0, found.index) + put + text.slice(found.index + found[0].length);
    }),
  );

/** A word of the file stands where another one stood: names that lead nowhere, or elsewhere. */
const words = fc.tuple(share, share, share).map(([file, at, from]) =>
  inFile(file, (text) => {
    const all = [...text.matchAll(/(?<=[ [{"])[\p{L}\d][\p{L}\d.-]*(?=[ ,:}\]"\n])/gu)];
    const found = all[Math.floor(at * all.length)];
    const other = all[Math.floor(from * all.length)]?.[0] ?? '';
    if (found === undefined) return text;
    return text.slice(0, found.index) + other + text.slice(found.index + found[0].length);
  }),
);

/** A file goes missing, is emptied or gets another name. */
const wholeFiles = fc
  .tuple(share, fc.constantFrom('gone', 'empty', 'renamed', 'crlf', 'bom'))
  .map(([file, how]): Change => {
    if (how === 'crlf') return inFile(file, (text) => text.replaceAll('\n', '\r\n'));
    if (how === 'bom') return inFile(file, (text) => `\ufeff${text}`);
    if (how === 'empty') return inFile(file, () => '');
    return (files) => {
      const paths = Object.keys(files);
      const path = paths[Math.floor(file * paths.length)] ?? '';
      const { [path]: text = '', ...rest } = files;
      return how === 'gone' ? rest : { ...rest, [path.replace('2026', '2027')]: text };
    };
  });

const change = fc.oneof(
  { weight: 3, arbitrary: characters },
  { weight: 3, arbitrary: tokens },
  { weight: 2, arbitrary: lines },
  { weight: 5, arbitrary: values },
  { weight: 5, arbitrary: numbers },
  { weight: 3, arbitrary: words },
  { weight: 1, arbitrary: wholeFiles },
);

/** A ledger with one to four things changed in it. */
export function mutated(files: Texts): fc.Arbitrary<Texts> {
  return fc
    .array(change, { minLength: 1, maxLength: 4 })
    .map((changes) => changes.reduce((now, apply) => apply(now), files));
}
