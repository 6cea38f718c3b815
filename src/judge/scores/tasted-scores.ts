import { allows, type Selection } from '../../measure/selection.ts';
import type { Ripeness, Sample, Score, Tasting } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { siteOn } from '../../model/standing.ts';
import { mean } from '../../stats/describe/mean.ts';

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

/** What some scores come to by plain means, with nothing allowed for. */
interface PlainScores {
  /** Means on the ledger's scale by trait; a trait without a score is left out. */
  readonly traits: ReadonlyMap<string, number>;
  /** Mean of all scores of all traits. */
  readonly overall: number | undefined;
  readonly tasters: number;
  readonly scores: number;
  /** Mean soluble solids of the samples that tell, degrees Brix. */
  readonly brix: number | undefined;
  /** Mean width of the eye of the samples that tell, mm. */
  readonly eye: number | undefined;
}

/** Plain means over all tasters, samples and sittings. */
export function plainScores(traits: readonly string[], scores: readonly Score[]): PlainScores {
  const samples = [...new Set(scores.map(({ sample }) => sample))];
  const over = (of: (sample: Sample) => number | undefined) =>
    mean(samples.map(of).filter((value) => value !== undefined));
  return {
    traits: new Map(
      traits.flatMap((trait) => {
        const own = scores.filter((score) => score.trait === trait);
        const middle = mean(own.map(({ value }) => value));
        return middle === undefined ? [] : [[trait, middle] as const];
      }),
    ),
    overall: mean(scores.map(({ value }) => value)),
    tasters: new Set(scores.map(({ taster }) => taster)).size,
    scores: scores.length,
    brix: over((sample) => sample.brix),
    eye: over((sample) => sample.eye),
  };
}
