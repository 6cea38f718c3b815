import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { photoMissingWords } from '../diagnostics/words/rules-photos.ts';
import type { Ledger } from '../model/ledger.ts';
import { liesInside, photos } from './parts/photos.ts';
import type { Rule, Surroundings } from './rule.ts';

export const photoMissing: Rule = { words: [photoMissingWords], check };

function* check(ledger: Ledger, around: Surroundings | undefined): Generator<Diagnostic> {
  if (around === undefined) return;
  for (const { photo, at } of photos(ledger)) {
    if (!liesInside(photo) || around.isFile(photo)) continue;
    yield diagnose(photoMissingWords, at, { photo });
  }
}
