import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import type { Ledger } from '../model/ledger.ts';
import { photoInside } from '../model/photo-path.ts';
import { listsIn } from '../model/season-entries.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import type { Rule, Surroundings } from './rule.ts';

/** Every photo that an entry or a sample names, with the place where it does. */
function* photos({ seasons }: Ledger): Generator<{ readonly photo: string; readonly at: Spot }> {
  for (const season of seasons) {
    const samples = season.tastings.flatMap((tasting) => tasting.samples);
    for (const list of [...listsIn(season), samples]) {
      for (const { photo, at } of list) {
        if (photo !== undefined) yield { photo, at: spotIn(at, 'photo') };
      }
    }
  }
}

const photoMissingWords = wording<{ photo: string }>({
  rule: 'photo-missing',
  severity: 'warning',
  why: 'A picture that is not where the entry says cannot be shown with it.',
  message: ({ photo }) => `there is no picture ${photo} in the ledger`,
  advice: () =>
    'put the picture there, or write its path as it is: from the folder of the ledger, with /, small and capital letters as in its name',
});

export const photoMissing: Rule = { words: [photoMissingWords], check: findPhotoMissing };

function* findPhotoMissing(
  ledger: Ledger,
  around: Surroundings | undefined,
): Generator<Diagnostic> {
  if (around === undefined) return;
  for (const { photo, at } of photos(ledger)) {
    if (photoInside(photo) === undefined || around.isFile(photo)) continue;
    yield diagnose(photoMissingWords, at, { photo });
  }
}

const photoOutsideWords = wording<{ photo: string }>({
  rule: 'photo-outside',
  severity: 'warning',
  why: 'A ledger is copied, shared and published as one folder. A picture that lies elsewhere is not in it, and a path that leads out of it may show what was never meant to be shown.',
  message: ({ photo }) => `the photo ${photo} does not lie inside the ledger`,
  advice: () =>
    'copy the picture into the folder of the ledger and write the path from there, as in photos/t1.jpg',
});

export const photoOutside: Rule = { words: [photoOutsideWords], check: findPhotoOutside };

function* findPhotoOutside(ledger: Ledger): Generator<Diagnostic> {
  for (const { photo, at } of photos(ledger)) {
    if (photoInside(photo) === undefined) yield diagnose(photoOutsideWords, at, { photo });
  }
}
