import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { girthShrinksWords } from '../diagnostics/words/rules-harvest.ts';
import type { Growth } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { wasCutBack } from './parts/events-on-tree.ts';
import { byDate, grouped } from './parts/grouped.ts';
import { quantityText } from './parts/quantity-text.ts';
import type { Rule } from './rule.ts';

export const girthShrinks: Rule = { words: [girthShrinksWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  const measured = ledger.seasons
    .flatMap(({ growth }) => growth)
    .filter(({ girth }) => girth !== undefined);
  for (const entries of grouped(measured, ({ tree }) => tree).values()) {
    let before: Growth | undefined;
    for (const now of byDate(entries)) {
      if (before !== undefined) yield* compare(ledger, before, now);
      before = now;
    }
  }
}

function* compare(ledger: Ledger, before: Growth, now: Growth): Generator<Diagnostic> {
  if (before.girth === undefined || now.girth === undefined) return;
  if (now.girth >= 0.9 * before.girth) return;
  if (wasCutBack(ledger, now.tree, before.on, now.on)) return;
  const facts = {
    tree: now.tree.id,
    girth: quantityText(now.girth, 'girth', ledger.trial.units),
    before: quantityText(before.girth, 'girth', ledger.trial.units),
    beforeOn: before.on,
  };
  yield diagnose(girthShrinksWords, spotIn(now.at, 'girth'), facts, [
    { at: spotIn(before.at, 'girth'), label: 'measured before' },
  ]);
}
