import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { photoOutsideWords } from '../diagnostics/words/rules-photos.ts';
import type { Ledger } from '../model/ledger.ts';
import { liesInside, photos } from './parts/photos.ts';
import type { Rule } from './rule.ts';

export const photoOutside: Rule = { words: [photoOutsideWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const { photo, at } of photos(ledger)) {
    if (!liesInside(photo)) yield diagnose(photoOutsideWords, at, { photo });
  }
}
