import { type Diagnostic, diagnose } from '../diagnostics/diagnostic.ts';
import { cropMayDropWords, cropUnexpectedWords } from '../diagnostics/words/rules-trees.ts';
import { cropOutlook } from '../model/bearing.ts';
import type { Tree } from '../model/collection.ts';
import type { Crop, Ledger, Season } from '../model/ledger.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import { byDate, grouped, treeCrop } from './parts/grouped.ts';
import type { Rule } from './rule.ts';

/*
 * One remark for a tree's crop in a season. A crop that was picked or tasted is questioned; one
 * that was only counted may well have set, and is only not to be counted on. Drops are what is
 * expected.
 */
export const cropUnexpected: Rule = { words: [cropUnexpectedWords, cropMayDropWords], check };

interface Sighting {
  readonly at: Spot;
  readonly on: string;
  readonly tree: Tree;
  readonly crop: Crop;
  readonly isRipe: boolean;
}

function* check(ledger: Ledger): Generator<Diagnostic> {
  const { pollinator, cropNames } = ledger.trial;
  for (const season of ledger.seasons) {
    for (const all of grouped(sightings(season), treeCrop).values()) {
      const [any] = all;
      if (any === undefined) continue;
      const { tree, crop } = any;
      const outlook = cropOutlook(tree.cultivar.bears, crop, pollinator);
      if (outlook.expected) continue;
      const inOrder = byDate(all);
      const seen = inOrder.find(({ isRipe }) => isRipe) ?? inOrder[0] ?? any;
      const words = seen.isRipe ? cropUnexpectedWords : cropMayDropWords;
      yield diagnose(words, spotIn(seen.at, 'crop'), {
        tree: tree.id,
        cultivar: tree.cultivar.name,
        crop: cropNames[crop],
        why: outlook.why,
      });
    }
  }
}

function* sightings({ counts, picks, tastings }: Season): Generator<Sighting> {
  for (const { at, on, tree, crop, fruit } of counts) {
    if (fruit > 0) yield { at, on, tree, crop, isRipe: false };
  }
  for (const { at, on, tree, crop, fruit } of picks) {
    if (fruit > 0) yield { at, on, tree, crop, isRipe: true };
  }
  for (const { on, samples } of tastings) {
    for (const { at, tree, crop } of samples) yield { at, on, tree, crop, isRipe: true };
  }
}
