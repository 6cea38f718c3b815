import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { moveNowhereWords } from '../diagnostics/words/rules-trees.ts';
import { addDays } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { siteOn } from '../model/standing.ts';
import { spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const moveNowhere: Rule = { words: [moveNowhereWords], check };

function* check(ledger: Ledger): Generator<Diagnostic> {
  for (const season of ledger.seasons) {
    for (const event of season.events) {
      if (event.kind !== 'move' || event.target.kind !== 'tree') continue;
      const { tree } = event.target;
      if (siteOn(ledger, tree, addDays(event.on, -1)) !== event.site) continue;
      const site = ledger.trial.sites.get(event.site)?.name ?? event.site;
      const facts = { tree: tree.id, site, on: event.on };
      yield diagnose(moveNowhereWords, spotIn(event.at, 'site'), facts);
    }
  }
}
