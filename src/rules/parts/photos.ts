import type { Ledger } from '../../model/ledger.ts';
import type { Spot } from '../../source/source-file.ts';
import { spotIn } from '../../source/source-file.ts';

/** Every photo that an entry or a sample names, with the place where it does. */
export function* photos({
  seasons,
}: Ledger): Generator<{ readonly photo: string; readonly at: Spot }> {
  for (const { counts, picks, drops, tastings, growth, events } of seasons) {
    const samples = tastings.flatMap((tasting) => tasting.samples);
    for (const entries of [counts, picks, drops, tastings, samples, growth, events]) {
      for (const { photo, at } of entries) {
        if (photo !== undefined) yield { photo, at: spotIn(at, 'photo') };
      }
    }
  }
}

/** Whether a path leads from the ledger's folder to somewhere below it, on every kind of machine. */
export function liesInside(path: string): boolean {
  // A scheme (https:, data:) or a drive (C:), a root, or somebody's home.
  if (/^(?:[a-z][a-z\d+.-]*:|[\\/~])/i.test(path)) return false;
  let depth = 0;
  for (const step of path.split(/[\\/]/)) {
    if (step === '..') depth -= 1;
    else if (step !== '' && step !== '.') depth += 1;
    if (depth < 0) return false;
  }
  return depth > 0;
}
