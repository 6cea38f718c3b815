import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { countBranchesJumpWords } from '../diagnostics/words/rules-harvest.ts';
import type { Count } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { wasCutBack } from './parts/events-on-tree.ts';
import { byDate, grouped, treeCrop } from './parts/grouped.ts';
import type { Rule } from './rule.ts';

/*
 * Counts are compared within a crop: the early crop hangs on last year's wood and the main crop on
 * this year's, so that their branches are rightly different ones.
 */
export const countBranchesJump: Rule = { words: [countBranchesJumpWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const counted = season.counts.filter(({ branches }) => branches !== undefined);
    for (const counts of grouped(counted, treeCrop).values()) {
      let before: Count | undefined;
      for (const now of byDate(counts)) {
        if (before !== undefined) yield* compare(ledger, before, now);
        before = now;
      }
    }
  }
}

function* compare(ledger: Ledger, before: Count, now: Count): Generator<Diagnostic> {
  if (before.branches === undefined || now.branches === undefined) return;
  const change = Math.abs(now.branches - before.branches);
  if (change <= 2 || change <= before.branches / 2) return;
  if (wasCutBack(ledger, now.tree, before.on, now.on)) return;
  const facts = {
    tree: now.tree.id,
    crop: ledger.trial.cropNames[now.crop],
    before: before.branches,
    beforeOn: before.on,
    now: now.branches,
  };
  yield diagnose(countBranchesJumpWords, spotIn(now.at, 'branches'), facts, [
    { at: spotIn(before.at, 'branches'), label: 'the count before' },
  ]);
}
