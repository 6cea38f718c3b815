/** A word of a typed line and where it stands; columns are counted from 0, `end` is past the word. */
export interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
  /** It stood in double quotes, which are no part of its text: "south wall" is one word. */
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
    if (text.length > 2 && /^".*"$/.test(text)) {
      const end = found.index + text.length;
      tokens.push({ text: text.slice(1, -1), start: found.index, end, isQuoted: true });
      continue;
    }
    tokens.push({ text, start: found.index, end: found.index + text.length });
    if (text.toLowerCase() !== 'note') continue;
    const from = found.index + text.length;
    const rest = line.slice(from);
    const start = from + (rest.length - rest.trimStart().length);
    if (rest.trim() !== '') tokens.push({ text: rest.trim(), start, end: line.trimEnd().length });
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
