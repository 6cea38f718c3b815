import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { sheetHalfFilledWords } from '../diagnostics/words/rules-tasting.ts';
import type { Tasting } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { grouped } from './parts/grouped.ts';
import { isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const sheetHalfFilled: Rule = { words: [sheetHalfFilledWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    if (!isWholeSeason(ledger, season)) continue;
    for (const tasting of season.tastings) yield* checkSitting(ledger, tasting);
  }
}

/** Asked of each sheet: the traits that anyone scored at the sitting, in the ledger's order. */
function* checkSitting(ledger: Ledger, { scores }: Tasting): Generator<Diagnostic> {
  const scored = new Set(scores.map(({ trait }) => trait));
  const asked = ledger.trial.traits.filter((trait) => scored.has(trait));
  for (const ofTaster of grouped(scores, ({ taster }) => taster).values()) {
    for (const sheet of grouped(ofTaster, ({ sample }) => sample).values()) {
      const first = sheet[0];
      if (first === undefined || sheet.length >= asked.length) continue;
      const given = new Set(sheet.map(({ trait }) => trait));
      yield diagnose(
        sheetHalfFilledWords,
        { ...first.at, part: 'key' },
        {
          taster: first.taster.name,
          sample: first.sample.label,
          given: asked.filter((trait) => given.has(trait)),
          missing: asked.filter((trait) => !given.has(trait)),
        },
      );
    }
  }
}
