import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { entryAfterRemovalWords } from '../diagnostics/words/rules-dates.ts';
import { growingYear } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { treeEntries, treeOrDate } from './parts/tree-entries.ts';
import type { Rule } from './rule.ts';

export const entryAfterRemoval: Rule = { words: [entryAfterRemovalWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    const { first } = growingYear(season.year, ledger.trial.place.latitude);
    for (const entry of treeEntries(season)) {
      const { kind, tree, on } = entry;
      if (tree.removed === undefined) continue;
      // Fruit can be tasted after its tree is gone, but not in a season that the tree never saw.
      const seen = kind === 'sample' ? first : on;
      if (seen <= tree.removed.latest) continue;
      const facts = { on, tree: tree.id, removed: tree.removed.text };
      yield diagnose(entryAfterRemovalWords, treeOrDate(entry), facts, [
        { at: spotIn(tree.at, 'removed'), label: 'removed here' },
      ]);
    }
  }
}
