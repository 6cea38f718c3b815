import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { entryOutsideSeasonWords } from '../diagnostics/words/rules-dates.ts';
import { growingYear, seasonOf } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const entryOutsideSeason: Rule = { words: [entryOutsideSeasonWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { latitude } = ledger.trial.place;
  // Where the latitude itself is a slip, nobody can say when the growing year begins.
  if (latitude === undefined && !areWhole(ledger, 'ledger.yaml')) return;
  for (const season of ledger.seasons) {
    const { first, last } = growingYear(season.year, latitude);
    const { counts, picks, drops, tastings, growth, events } = season;
    for (const { on, at } of [counts, picks, drops, tastings, growth, events].flat()) {
      if (on >= first && on <= last) continue;
      yield diagnose(entryOutsideSeasonWords, spotIn(at, 'on'), {
        on,
        season: season.year,
        first,
        last,
        belongs: seasonOf(on, latitude),
      });
    }
  }
}
