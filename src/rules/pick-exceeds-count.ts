import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { pickExceedsCountWords } from '../diagnostics/words/rules-harvest.ts';
import type { Count, Drop, Pick } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { spotIn } from '../source/source-file.ts';
import { byDate, grouped, treeCrop } from './parts/grouped.ts';
import { isWholeSeason } from './parts/whole.ts';
import type { Rule } from './rule.ts';

export const pickExceedsCount: Rule = { words: [pickExceedsCountWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    if (!isWholeSeason(ledger, season)) continue;
    const gone = grouped<string, Pick | Drop>([...season.picks, ...season.drops], treeCrop);
    for (const [key, counts] of grouped(season.counts, treeCrop)) {
      const last = counts.reduce((a, b) => (isLater(b, a) ? b : a));
      const over = firstOver(last, gone.get(key) ?? []);
      if (over === undefined) continue;
      const facts = {
        tree: last.tree.id,
        crop: ledger.trial.cropNames[last.crop],
        gone: over.total,
        counted: last.fruit,
        countedOn: last.on,
      };
      yield diagnose(pickExceedsCountWords, over.entry.at, facts, [
        { at: spotIn(last.at, 'fruit'), label: 'the last count' },
      ]);
    }
  }
}

/** Of two counts on one day the greater one speaks for the tree. */
function isLater(one: Count, other: Count): boolean {
  return one.on > other.on || (one.on === other.on && one.fruit > other.fruit);
}

/** The entry with which more fruit had gone than hung at the last count, and all that went. */
function firstOver(
  count: Count,
  entries: readonly (Pick | Drop)[],
): { readonly entry: Pick | Drop; readonly total: number } | undefined {
  const allowed = count.fruit + Math.max(2, count.fruit / 10);
  let total = 0;
  let first: Pick | Drop | undefined;
  for (const entry of byDate(entries)) {
    // A count is of what hangs before anything is picked that day.
    if (entry.on < count.on) continue;
    total += entry.fruit;
    if (total > allowed) first ??= entry;
  }
  return first === undefined ? undefined : { entry: first, total };
}
