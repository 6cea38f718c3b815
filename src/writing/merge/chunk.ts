import { indentOf } from '../text-lines.ts';

/** Two versions of some lines that do not go together. */
export interface Clash {
  readonly ours: readonly string[];
  readonly theirs: readonly string[];
}

/** A line of the joined text, or a place where only a person can say what is right. */
export type Chunk = string | Clash;

export function isLineChunk(chunk: Chunk): chunk is string {
  return typeof chunk === 'string';
}

/** Lines set in by some columns more, or fewer. */
export function setIn(lines: readonly string[], by: number): readonly string[] {
  if (by === 0) return lines;
  return lines.map((line) => {
    if (line.trim() === '') return line;
    return by > 0 ? ' '.repeat(by) + line : line.slice(Math.min(-by, indentOf(line)));
  });
}

/** The same for lines and for both sides of what clashes. */
export function chunksSetIn(chunks: readonly Chunk[], by: number): readonly Chunk[] {
  if (by === 0) return chunks;
  return chunks.map((chunk) =>
    isLineChunk(chunk)
      ? (setIn([chunk], by)[0] ?? '')
      : { ours: setIn(chunk.ours, by), theirs: setIn(chunk.theirs, by) },
  );
}
