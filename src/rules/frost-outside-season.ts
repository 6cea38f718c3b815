import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { frostOutsideSeasonWords } from '../diagnostics/words/rules-dates.ts';
import { growingYear } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { areWhole } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const frostOutsideSeason: Rule = { words: [frostOutsideSeasonWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { trial } = ledger;
  if (trial.place.latitude === undefined && !areWhole(ledger, 'ledger.yaml')) return;
  for (const [season, on] of trial.frost) {
    const { first, last } = growingYear(season, trial.place.latitude);
    if (on >= first && on <= last) continue;
    const at = spotIn(trial.at, 'frost', String(season));
    yield diagnose(frostOutsideSeasonWords, at, { on, season, first, last });
  }
}
