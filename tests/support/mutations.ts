import fc from 'fast-check';
import { bytes, wholeFiles } from './change-files.ts';
import { structure } from './change-structure.ts';
import { characters, lines, tokens } from './change-text.ts';
import { dates, numbers, units, values, words } from './change-values.ts';
import type { Change, Files } from './changes.ts';

export type { Files } from './changes.ts';
export type Texts = Readonly<Record<string, string>>;

/** What can be changed in texts, and how often each is. */
const TEXT_CHANGES = {
  characters: { weight: 3, arbitrary: characters },
  tokens: { weight: 3, arbitrary: tokens },
  lines: { weight: 2, arbitrary: lines },
  structure: { weight: 3, arbitrary: structure },
  values: { weight: 5, arbitrary: values },
  numbers: { weight: 5, arbitrary: numbers },
  units: { weight: 1, arbitrary: units },
  dates: { weight: 2, arbitrary: dates },
  words: { weight: 3, arbitrary: words },
  files: { weight: 1, arbitrary: wholeFiles },
};
const CHANGES = { ...TEXT_CHANGES, bytes: { weight: 1, arbitrary: bytes } };
/** What most ledgers can be read with: the figures are odd then. */
const GENTLE_CHANGES = {
  numbers: { weight: 6, arbitrary: numbers },
  dates: { weight: 1, arbitrary: dates },
  words: { weight: 1, arbitrary: words },
  units: { weight: 1, arbitrary: units },
};

/** A kind of change, named so that those made can be counted. */
export type Kind = keyof typeof CHANGES;
export const KINDS = Object.keys(CHANGES) as readonly Kind[];

/** A ledger that has been changed, and how. */
export interface Mutated {
  readonly files: Files;
  /** The changes that were made; those that found nothing to change are left out. */
  readonly kinds: readonly Kind[];
}

/** A ledger with one to four things changed in it, often gently, and with files that are no text. */
export function broken(files: Files): fc.Arbitrary<Mutated> {
  return fc.oneof(changed(files, CHANGES, 4), changed(files, GENTLE_CHANGES, 2));
}

/** As `broken`, but all files stay text. */
export function mutated(files: Texts): fc.Arbitrary<Texts> {
  return changed(files, TEXT_CHANGES, 4).map((made) => made.files as Texts);
}

type Kinds = Readonly<
  Partial<Record<Kind, { readonly weight: number; readonly arbitrary: fc.Arbitrary<Change> }>>
>;

function changed(files: Files, kinds: Kinds, most: number): fc.Arbitrary<Mutated> {
  const one = fc.oneof(
    ...Object.entries(kinds).map(([kind, { weight, arbitrary }]) => ({
      weight,
      arbitrary: arbitrary.map((apply) => ({ kind: kind as Kind, apply })),
    })),
  );
  return fc.array(one, { minLength: 1, maxLength: most }).map((changes) => {
    let now = files;
    const made: Kind[] = [];
    for (const { kind, apply } of changes) {
      const next = apply(now);
      if (next !== now) made.push(kind);
      now = next;
    }
    return { files: now, kinds: made };
  });
}
