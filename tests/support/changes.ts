import fc from 'fast-check';

/** Files of a ledger by path: text, or bytes where they are to be no text. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

/** A change to a ledger; gives back the very same files where there is nothing that it could change. */
export type Change = (files: Files) => Files;

/** A share of a whole, to be turned into a place once the whole is known; every place alike. */
export const share = fc.noBias(fc.nat({ max: 999_999 })).map((part) => part / 1_000_000);

/** Changes the text of one file. */
export function inFile(share: number, change: (text: string, path: string) => string): Change {
  return (files) => {
    // Most of what people type, and so most slips, is in the season files.
    const paths = Object.keys(files).flatMap((path) =>
      path.startsWith('seasons/') ? [path, path, path] : [path],
    );
    const path = paths[Math.floor(share * paths.length)] ?? '';
    const text = files[path];
    if (typeof text !== 'string') return files;
    const changed = change(text, path);
    return changed === text ? files : { ...files, [path]: changed };
  };
}

/** Puts something else in the place of one of the matches of a pattern. */
export function atMatch(
  text: string,
  pattern: RegExp,
  at: number,
  instead: (found: string, all: readonly string[]) => string,
): string {
  const all = [...text.matchAll(pattern)];
  const found = all[Math.floor(at * all.length)];
  if (found === undefined) return text;
  const put = instead(
    found[0],
    all.map(([one]) => one),
  );
  return text.slice(0, found.index) + put + text.slice(found.index + found[0].length);
}
