import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { bandOutrunWords } from '../diagnostics/words/rules-settings.ts';
import { outrunBands } from '../measure/outrun-bands.ts';
import { EVERYTHING } from '../measure/selection.ts';
import type { Ledger, MeasuredPart } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { quantityText } from './parts/quantity-text.ts';
import type { Rule } from './rule.ts';

export const bandOutrun: Rule = { words: [bandOutrunWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { trial } = ledger;
  for (const { part, crop, side, beyond, of, end } of outrunBands(ledger, EVERYTHING)) {
    const [measure, score] = end;
    yield diagnose(bandOutrunWords, spotIn(trial.at, 'rank', 'bands', part), {
      part,
      crop: trial.cropNames[crop],
      side,
      beyond,
      of,
      end: measureText(ledger, part, measure),
      score,
    });
  }
}

function measureText({ trial }: Ledger, part: MeasuredPart, measure: number): string {
  if (part === 'size') return quantityText(measure, 'weight', trial.units);
  return part === 'productivity' ? `${measure} fruit per branch` : `a share of ${measure}`;
}
