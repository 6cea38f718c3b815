import type { Sample, Score } from '../../model/entries.ts';
import { mean } from '../../stats/describe/mean.ts';

/** What some scores come to by plain means, with nothing allowed for. */
export interface PlainScores {
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
