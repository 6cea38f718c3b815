import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { spraySameDayWords, sprayWaitWords } from '../diagnostics/words/rules-trees.ts';
import { safeFrom, sprayDiary } from '../measure/spray-diary.ts';
import type { Tree } from '../model/collection.ts';
import type { IsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import type { Rule } from './rule.ts';

export const sprayWait: Rule = { words: [sprayWaitWords, spraySameDayWords], check };

interface Eaten {
  readonly what: 'picked' | 'tasted';
  readonly tree: Tree;
  readonly on: IsoDate;
  readonly at: Spot;
  /** What of the entry to point at. */
  readonly key: 'on' | 'tree';
}

function* check(ledger: Ledger): Generator<Diagnostic> {
  const sprayOver = sprayDiary(ledger);
  for (const { what, tree, on, at, key } of eaten(ledger)) {
    const before = sprayOver(tree, on, (spray) => spray.on < on);
    // On the day itself nobody knows which came first, unless the spray says so.
    const spray = before ?? sprayOver(tree, on, ({ after }) => after === undefined);
    if (spray === undefined) continue;
    const facts = {
      tree: tree.id,
      what,
      on,
      product: spray.product,
      sprayedOn: spray.on,
      waitDays: spray.waitDays,
      safeFrom: safeFrom(spray),
    };
    const words = before === undefined ? spraySameDayWords : sprayWaitWords;
    yield diagnose(words, spotIn(at, key), facts, [{ at: spray.at, label: 'sprayed here' }]);
  }
}

function* eaten(ledger: Ledger): Generator<Eaten> {
  for (const season of ledger.seasons) {
    for (const { tree, on, at, fruit } of season.picks) {
      if (fruit > 0) yield { what: 'picked', tree, on, at, key: 'on' };
    }
    for (const { on, samples } of season.tastings) {
      for (const { tree, at } of samples) {
        yield { what: 'tasted', tree, on, at, key: 'tree' };
      }
    }
  }
}
