/**
 * A value in a YAML text. What is inside is looked up when it is asked for, so that one place in a
 * long file is soon found. Offsets are in UTF-16 units.
 */
export interface YamlNode {
  readonly kind: 'map' | 'list' | 'scalar';
  /** Whether it stands in brackets. */
  readonly isFlow: boolean;
  /** Whether nothing stands there, as behind `fruit:`. */
  readonly isBlank: boolean;
  /** Whether it is text of several lines behind `|` or `>`. */
  readonly isBlockText: boolean;
  /**
   * Where its text begins: at its quote or bracket, for a list of lines at its first dash, for block
   * text at its first line. What is blank has no text: in a list it is found at its dash, in a map
   * where its key ends.
   */
  readonly start: number;
  /** Where its text ends: past its quote, bracket or last part, before any comment that follows. */
  readonly end: number;
  /** Where the text of a scalar ends for the reader: blank lines below block text belong to it. */
  readonly valueEnd: number;
  /** What a scalar says, before it is taken for a number or anything else; else nothing. */
  readonly text: string;
  /** The items of a list, none of anything else. */
  readonly items: readonly YamlNode[];
  /** The pairs of a map, none of anything else. */
  readonly pairs: readonly YamlPair[];
  /** The pair of a key; of a key that is there twice, the last one. */
  pair(key: string): YamlPair | undefined;
}

/** A key of a map and what stands behind it. */
export interface YamlPair {
  readonly key: YamlNode;
  readonly value: YamlNode;
}

/** Where a pair ends: with its value, or with its key where nothing stands behind it. */
export function pairEnd(pair: YamlPair | undefined): number | undefined {
  return pair && Math.max(pair.key.end, pair.value.end);
}
