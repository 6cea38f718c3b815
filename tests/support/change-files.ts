import fc from 'fast-check';
import { type Change, type Files, inFile, share } from './changes.ts';

/** A file goes missing, is emptied, gets another name or is there twice; or all its line ends change. */
export const wholeFiles: fc.Arbitrary<Change> = fc
  .tuple(
    share,
    fc.constantFrom(
      ...([
        'gone',
        'empty',
        'year',
        'ending',
        'capital',
        'folder',
        'twice',
        'crlf',
        'bom',
      ] as const),
    ),
  )
  .map(([file, how]): Change => {
    if (how === 'crlf') return inFile(file, (text) => text.replaceAll('\n', '\r\n'));
    if (how === 'bom') return inFile(file, (text) => `\ufeff${text}`);
    if (how === 'empty') return inFile(file, () => '');
    return (files) => {
      const paths = Object.keys(files);
      const path = paths[Math.floor(file * paths.length)];
      if (path === undefined) return files;
      const { [path]: content = '', ...rest } = files;
      if (how === 'gone') return rest;
      const name = {
        year: path.replace(/\d{4}/, (year) => String(Number(year) + 1)),
        ending: path.replace(/yaml$/, 'yml').replace(/csv$/, 'txt'),
        capital: path.replace(/[a-z](?=[^/]*$)/, (letter) => letter.toUpperCase()),
        folder: path.includes('/') ? path.replace('/', '/old/') : `old/${path}`,
        twice: path.replace(/\d{4}/, (year) => String(Number(year) + 1)),
      }[how];
      if (name === path) return files;
      return how === 'twice' ? { ...files, [name]: content } : { ...rest, [name]: content };
    };
  });

/** Bytes that are no UTF-8, a file cut off within a character, or one saved in another encoding. */
export const bytes: fc.Arbitrary<Change> = fc
  .tuple(
    share,
    share,
    fc.uint8Array({ minLength: 1, maxLength: 4 }),
    fc.constantFrom(...(['put', 'put', 'over', 'drop', 'cut', 'utf16le', 'latin1'] as const)),
  )
  .map(([file, at, some, how]): Change => {
    return (files: Files) => {
      const paths = Object.keys(files);
      const path = paths[Math.floor(file * paths.length)];
      if (path === undefined) return files;
      const held = Buffer.from(files[path] ?? '');
      const place = Math.floor(at * held.length);
      const made = {
        put: () => Buffer.concat([held.subarray(0, place), some, held.subarray(place)]),
        over: () =>
          Buffer.concat([held.subarray(0, place), some, held.subarray(place + some.length)]),
        drop: () => Buffer.concat([held.subarray(0, place), held.subarray(place + some.length)]),
        cut: () => held.subarray(0, place),
        utf16le: () => Buffer.from(`\ufeff${held.toString()}`, 'utf16le'),
        // A letter that Latin-1 has goes in, since most of a ledger is the same in both.
        latin1: () => Buffer.from(held.toString().replace(/[aeo](?=[a-z])/, 'ö'), 'latin1'),
      };
      return { ...files, [path]: new Uint8Array(made[how]()) };
    };
  });
