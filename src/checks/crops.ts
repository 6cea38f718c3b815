import { type Diagnostic, diagnose, wording } from '../diagnostics/diagnostic.ts';
import { groupBy } from '../measure/group-by.ts';
import { cropOutlook } from '../model/bearing.ts';
import type { Tree } from '../model/collection.ts';
import type { Crop, Ledger, Season } from '../model/ledger.ts';
import { type Spot, spotIn } from '../source/source-file.ts';
import { byDateAndPlace, treeCrop } from './parts/tree-entries.ts';
import type { Rule } from './rule.ts';

const cropUnexpectedWords = wording<{
  tree: string;
  cultivar: string;
  crop: string;
  why: string;
}>({
  rule: 'crop-unexpected',
  severity: 'warning',
  why: 'What a fig sets without a pollinator depends on its pollination type (Condit 1955, Hilgardia 23:323-538). A ripe crop where none can be expected points to a mixed-up tree, crop or type. It may also be true, and is then worth knowing: some san-pedro figs ripen main crop in some places.',
  message: ({ tree, cultivar, crop, why }) =>
    `no ripe ${crop} crop is expected of tree ${tree} (${cultivar}): ${why}`,
  advice: () =>
    'check the tree and the crop here, `bears` in cultivars.yaml and `pollinator` in ledger.yaml; if it is what you saw, leave it',
});

const cropMayDropWords = wording<{
  tree: string;
  cultivar: string;
  crop: string;
  why: string;
}>({
  rule: 'crop-may-drop',
  severity: 'warning',
  why: 'A crop may set and be counted although it cannot ripen without a pollinator. The drop is worth an entry too.',
  message: ({ tree, cultivar, crop, why }) =>
    `do not count on the ${crop} crop of tree ${tree} (${cultivar}): ${why}`,
  advice: () =>
    'enter what falls under `drops`, or check the crop here and `bears` in cultivars.yaml',
});

/*
 * One remark for a tree's crop in a season. A crop that was picked or tasted is questioned; one
 * that was only counted may well have set, and is only not to be counted on. Drops are what is
 * expected.
 */
export const cropUnexpected: Rule = {
  words: [cropUnexpectedWords, cropMayDropWords],
  check: findCropUnexpected,
};

interface Sighting {
  readonly at: Spot;
  readonly on: string;
  readonly tree: Tree;
  readonly crop: Crop;
  readonly isRipe: boolean;
}

function* findCropUnexpected(ledger: Ledger): Generator<Diagnostic> {
  const { pollinator, cropNames } = ledger.trial;
  for (const season of ledger.seasons) {
    for (const all of groupBy(sightings(season), treeCrop).values()) {
      const [any] = all;
      if (any === undefined) continue;
      const { tree, crop } = any;
      const outlook = cropOutlook(tree.cultivar.bears, crop, pollinator);
      if (outlook.expected) continue;
      const inOrder = byDateAndPlace(all);
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
