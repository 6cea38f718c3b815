/** A word of a typed line and where it stands; columns are counted from 0, `end` is past the word. */
export interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** It is to be taken as it stands: it stood in double quotes, which are no part of it, or is a note. */
  readonly isQuoted?: true;
}

/**
 * The words of a line; what stands in double quotes is one. A word that begins with # ends it; after the word `note` the rest of the line
 * is one word, whatever is in it.
 */
export function tokensOf(line: string): readonly Token[] {
  const tokens: Token[] = [];
  for (const found of line.matchAll(/"[^"]+"(?=[\s,:]|$)|\S+/g)) {
    const text = found[0];
    if (text.startsWith('#')) break;
    if (/^"[^"]+"$/.test(text)) {
      const end = found.index + text.length;
      tokens.push({ text: text.slice(1, -1), start: found.index, end, isQuoted: true });
      continue;
    }
    tokens.push({ text, start: found.index, end: found.index + text.length });
    if (text.toLowerCase() !== 'note') continue;
    const from = found.index + text.length;
    const rest = line.slice(from);
    const start = from + (rest.length - rest.trimStart().length);
    if (rest.trim() !== '')
      tokens.push({ text: rest.trim(), start, end: line.trimEnd().length, isQuoted: true });
    break;
  }
  return tokens;
}

/** A word cut at `>` and `=`, which stand for words of their own: G3>Y1=P2. */
export function cutAtSigns(token: Token): readonly Token[] {
  return [...token.text.matchAll(/[>=]|[^>=]+/g)].map((found) => ({
    text: found[0],
    start: token.start + found.index,
    end: token.start + found.index + found[0].length,
  }));
}

/** A word cut at colons, equals signs and commas but for those inside a number: `main:`, `flavour=8`, `7,5,`. */
export function cutAtPunctuation(token: Token): readonly Token[] {
  if (token.isQuoted) return [token];
  return [...token.text.matchAll(/[:=]|,(?!\d)|(?:[^:=,]|,(?=\d))+/g)].map((found) => ({
    text: found[0],
    start: token.start + found.index,
    end: token.start + found.index + found[0].length,
  }));
}

/** Words that together are one name, as one word: `south wall` where a site is called so. */
export function joinNames(
  tokens: readonly Token[],
  names: ReadonlyMap<string, number>,
): readonly Token[] {
  if (names.size === 0) return tokens;
  const longest = Math.max(...names.values());
  const joined: Token[] = [];
  for (let at = 0; at < tokens.length; ) {
    const length = nameLength(tokens, at, names, longest);
    const [first, last] = [tokens[at], tokens[at + length - 1]];
    if (first === undefined || last === undefined) break;
    joined.push(
      length === 1
        ? first
        : {
            text: textOf(tokens.slice(at, at + length)),
            start: first.start,
            end: last.end,
          },
    );
    at += length;
  }
  return joined;
}

function nameLength(
  tokens: readonly Token[],
  at: number,
  names: ReadonlyMap<string, number>,
  longest: number,
): number {
  for (let length = Math.min(longest, tokens.length - at); length > 1; length--) {
    const words = tokens.slice(at, at + length);
    if (words.some(({ isQuoted }) => isQuoted)) continue;
    if (
      names.has(
        textOf(words)
          .toLowerCase()
          .replace(/[:,]+$/, ''),
      )
    )
      return length;
  }
  return 1;
}

function textOf(words: readonly Token[]): string {
  return words.map(({ text }) => text).join(' ');
}
