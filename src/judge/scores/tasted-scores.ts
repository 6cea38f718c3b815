import { allows, type Selection } from '../../measure/selection.ts';
import type { Ripeness, Score, Tasting } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';

/** A score with the sitting it was given at. */
export interface TastedScore {
  readonly score: Score;
  readonly tasting: Tasting;
  /** Key of the site where the tree stood on the day. */
  readonly site: string;
}

/** Which fruit is looked at: by default only what was ripe. */
export interface TastedSelection extends Selection {
  /** A sample that does not say counts as ripe: people taste ripe fruit unless they note otherwise. */
  readonly ripeness?: readonly Ripeness[] | undefined;
}

const RIPE: readonly Ripeness[] = ['ripe'];

/** The scores that a selection asks for, in the order of the files. */
export function tastedScores(ledger: Ledger, selection: TastedSelection): readonly TastedScore[] {
  const ripeness = selection.ripeness ?? RIPE;
  const chosen: TastedScore[] = [];
  for (const season of ledger.seasons) {
    if (!allows(selection.seasons, season.year)) continue;
    for (const tasting of season.tastings) {
      for (const score of tasting.scores) {
        const { tree, crop } = score.sample;
        if (!ripeness.includes(score.sample.ripeness ?? 'ripe')) continue;
        if (!allows(selection.crops, crop) || !allows(selection.trees, tree.id)) continue;
        if (!allows(selection.cultivars, tree.cultivar.key)) continue;
        const site = siteOn(ledger, tree, tasting.on);
        if (allows(selection.sites, site)) chosen.push({ score, tasting, site });
      }
    }
  }
  return chosen;
}
