import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { entryBeforeTreeWords } from '../diagnostics/words/rules-dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { arrivalOf } from '../model/tree-life.ts';
import { spotIn } from '../source/source-file.ts';
import { treeEntries, treeOrDate } from './parts/tree-entries.ts';
import type { Rule } from './rule.ts';

export const entryBeforeTree: Rule = { words: [entryBeforeTreeWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const entry of treeEntries(season)) {
      const { tree, on } = entry;
      const arrival = arrivalOf(tree);
      if (arrival === undefined || on >= arrival.date.earliest) continue;
      const { key, date } = arrival;
      const facts = { on, tree: tree.id, since: date.text, key };
      yield diagnose(entryBeforeTreeWords, treeOrDate(entry), facts, [
        { at: spotIn(tree.at, key), label: `${key} here` },
      ]);
    }
  }
}
