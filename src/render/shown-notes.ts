import type { Note } from '../report/table.ts';
import { hang } from './text-lines.ts';

/** How many notes stand under a table: all, a few lines about this ledger, or none. */
export const NOTE_LEVELS = ['all', 'few', 'none'] as const;
export type NoteLevel = (typeof NOTE_LEVELS)[number];

/** A terminal of 80 columns has so many lines to spare below twelve rows. */
const FEW_LINES = 5;
const TERMINAL = 80;

export interface ShownNotes {
  readonly notes: readonly Note[];
  /** How many more there would be of those that are shown unasked. */
  readonly held: number;
}

/**
 * The notes of a level. A few: those with a brief text (where no note has one, those on the evidence), as many as fill five lines of a terminal of
 * 80 columns, whatever the width at hand, so that the same is said everywhere; cautions find room
 * before the rest.
 */
export function shownNotes(notes: readonly Note[], level: NoteLevel): ShownNotes {
  if (level !== 'few') return { notes: level === 'all' ? notes : [], held: 0 };
  const isBrief = notes.some(({ brief }) => brief !== undefined);
  // What holds for both crops is said once.
  const texts = new Map(
    notes.flatMap(({ kind, text, brief = isBrief || kind === 'method' ? undefined : text }) =>
      brief === undefined ? [] : [[brief, kind] as const],
    ),
  );
  const brief = [...texts].map(([text, kind]): Note => ({ kind, text }));
  const kept = new Set<Note>();
  let left = FEW_LINES;
  for (const note of [...brief.filter(isCaution), ...brief.filter((one) => !isCaution(one))]) {
    const lines = hang('- ', note.text, TERMINAL).length;
    if (lines > left && kept.size > 0) continue;
    kept.add(note);
    left -= lines;
  }
  return { notes: brief.filter((note) => kept.has(note)), held: brief.length - kept.size };
}

function isCaution({ kind }: Note): boolean {
  return kind === 'caution';
}
