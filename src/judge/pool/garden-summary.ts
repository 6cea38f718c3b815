import type { Cultivar } from '../../model/collection.ts';
import type { Score } from '../../model/entries.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { unshrunk } from '../../stats/pool/unshrunk.ts';
import type { Length } from '../index/chain-length.ts';
import { drawIndex } from '../index/draw-index.ts';
import { type Evidence, evidenceOf } from '../index/evidence.ts';
import { gatherTrial, weighedParts } from '../index/gather-trial.ts';
import { partsSeen } from '../index/parts-seen.ts';
import { type PoolGarden, plainName } from './same-cultivars.ts';

/** All that a garden tells of a crop to the others: so little that it could be sent in its place. */
export interface GardenSummary {
  /** Of those that have every weighted part. */
  readonly judged: readonly (Evidence & { readonly cultivar: Cultivar })[];
  /** Of the judged: the index on the home's scale by what was seen of each, not shrunk towards the others. */
  readonly mean: Float64Array;
  /** Of the errors of `mean`, row by row; what all share in them is the error of the garden's level. */
  readonly covariance: Float64Array;
  /** Those with an entry of the crop that lack a weighted part. */
  readonly incomplete: readonly {
    readonly cultivar: Cultivar;
    readonly lacks: readonly string[];
  }[];
}

/** Two moments need fewer draws than the ends of intervals. */
const LENGTH: Length = { warmUp: 250, rounds: 1000, every: 2, pairs: 1 };

/**
 * What a garden says of a crop by the joint model of `rank`, under the home's weights and bands: stage one of a
 * stage-wise analysis, with cultivars as good as fixed (Piepho, Mohring, Schulz-Streeck and Ogutu 2012, Biometrical
 * Journal 54:844-860).
 */
export function gardenSummary(
  home: Ledger,
  { ledger, selection }: PoolGarden,
  crop: Crop,
  seed: number,
): GardenSummary {
  const turned = inHomeTerms(home, ledger);
  const trial = gatherTrial(turned, selection, crop);
  const weighed = weighedParts(turned).map(([part]) => part);
  const seen = partsSeen(trial);
  const lacks = seen.map((own) => weighed.filter((part) => !own.has(part)));
  const items = [...lacks.keys()].filter((item) => lacks[item]?.length === 0);
  const drawn =
    items.length === 0 || weighed.length === 0
      ? undefined
      : drawIndex(trial, { seed, strangers: 2, length: () => LENGTH });
  const index = drawn?.views[0]?.index ?? [];
  const told = items.flatMap((item) => {
    const draws = index[item];
    return draws === undefined ? [] : [{ item, draws }];
  });
  const [one, other] = drawn?.views[0]?.strangers ?? [];
  const known =
    told.length === 0 || one === undefined || other === undefined
      ? { mean: new Float64Array(0), covariance: new Float64Array(0) }
      : unshrunk(
          told.map(({ draws }) => draws),
          [one, other],
        );
  const evidence = evidenceOf(trial);
  const cultivarOf = (item: number) => trial.cultivars[item] as Cultivar;
  return {
    judged: told.map(({ item }) => ({
      ...(evidence[item] as Evidence),
      cultivar: cultivarOf(item),
    })),
    ...known,
    incomplete: lacks.flatMap((own, item) =>
      own.length === 0 ? [] : [{ cultivar: cultivarOf(item), lacks: own }],
    ),
  };
}

/**
 * A garden's ledger as another would weigh it: by its weights and bands, with marks put on its scale by a straight line
 * from end to end. Traits are the same by the letters of their keys; what the other does not taste is left out.
 */
function inHomeTerms({ trial: home }: Ledger, garden: Ledger): Ledger {
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
