import type { Score } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { plainName } from './same-cultivars.ts';

/**
 * A garden's ledger as another would weigh it: by its weights and bands, with marks put on its scale by a straight line
 * from end to end. Traits are the same by the letters of their keys; what the other does not taste is left out.
 */
export function inHomeTerms({ trial: home }: Ledger, garden: Ledger): Ledger {
  const { trial } = garden;
  const { low, high } = home.scale;
  const stretch = (high - low) / (trial.scale.high - trial.scale.low);
  const traits = new Map(
    trial.traits.flatMap((own) => {
      const same = home.traits.find((trait) => plainName(trait) === plainName(own));
      return same === undefined ? [] : [[own, same] as const];
    }),
  );
  const turn = (score: Score): readonly Score[] => {
    const trait = traits.get(score.trait);
    if (trait === undefined) return [];
    return [{ ...score, trait, value: low + stretch * (score.value - trial.scale.low) }];
  };
  return {
    ...garden,
    trial: { ...trial, scale: home.scale, traits: home.traits, rank: home.rank },
    seasons: garden.seasons.map((season) => ({
      ...season,
      tastings: season.tastings.map((tasting) => ({
        ...tasting,
        scores: tasting.scores.flatMap(turn),
      })),
    })),
  };
}
