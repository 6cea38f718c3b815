/**
 * Text made safe to show: control characters, terminal escapes and the marks that reverse reading
 * direction are written out, so that text from a file can never steer a terminal.
 *
 * The classes are Unicode general category Cc, the bidirectional controls of Unicode Annex 9,
 * line and paragraph separators, and lone surrogates.
 */
export function visible(text: string): string {
  return text.replace(UNSAFE, (character) => {
    const named = NAMED.get(character);
    if (named !== undefined) return named;
    return `\\u{${(character.codePointAt(0) ?? 0).toString(16)}}`;
  });
}

const NAMED = new Map([
  ['\t', ' '],
  ['\n', ' '],
  ['\r', ' '],
]);

const UNSAFE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not get through
  /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
