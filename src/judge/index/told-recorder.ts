import type { JointSampler } from '../../stats/joint/joint-sampler.ts';
import { ITEM, LEVELS, type Level } from '../../stats/joint/joint-trial.ts';
import type { PartChain } from '../../stats/joint/part-chain.ts';

/** Draws, one a round, of what moves items, trees and seasons. */
export interface Told {
  /** By part, standard deviations on the scale of the model. */
  readonly spreads: readonly Readonly<
    Record<Level | 'plate' | 'residual' | 'block', Float64Array>
  >[];
  /** By part, the scale of its weak priors. */
  readonly scales: readonly number[];
  readonly hasSites: boolean;
  /** By level and, last, plates: the share of the variance that all parts have in common. */
  readonly shares: readonly Float64Array[];
  /** Correlations of two parts between items: (0, 1), (0, 2), (1, 2), (0, 3) and so on; empty with one part. */
  readonly together: readonly Float64Array[];
  /** The centre of all correlations; absent with one part. */
  readonly centre: Float64Array | undefined;
  /** Years in which a young tree makes up for 1 - 1/e of what it lacks; absent where all trees are grown. */
  readonly pace: Float64Array | undefined;
  /** What a tree of age 0 lacks in taste; absent where no young tree was tasted. */
  readonly earned: Float64Array | undefined;
}

/** Keeps the unknowns of a chain that all items have in common. */
export class ToldRecorder {
  readonly #spreads: Told['spreads'];
  readonly #shares: readonly Float64Array[];
  readonly #together: readonly Float64Array[];
  readonly #centre: Float64Array;
  readonly #pace: Float64Array;
  readonly #earned: Float64Array;

  constructor(parts: number, rounds: number) {
    const draws = () => new Float64Array(rounds);
    this.#spreads = Array.from({ length: parts }, () => ({
      item: draws(),
      season: draws(),
      site: draws(),
      tree: draws(),
      plate: draws(),
      residual: draws(),
      block: draws(),
    }));
    this.#shares = Array.from({ length: LEVELS.length + 1 }, draws);
    this.#together = Array.from({ length: (parts * (parts - 1)) / 2 }, draws);
    this.#centre = draws();
    this.#pace = draws();
    this.#earned = draws();
  }

  keep(sampler: JointSampler, round: number): void {
    this.#spreads.forEach((spreads, k) => {
      const part = sampler.parts[k] as PartChain;
      LEVELS.forEach((level, at) => {
        spreads[level][round] = sampler.places.counts[at] === 0 ? 0 : sampler.spread(k, at);
      });
      spreads.plate[round] = part.plate;
      spreads.residual[round] = part.residual;
      spreads.block[round] = part.blockSpread;
      if (part.aging === 'earns') this.#earned[round] = part.earned;
    });
    this.#shares.forEach((draws, source) => {
      draws[round] = sampler.shares.of(source);
    });
    const { z, centre } = sampler.together;
    this.#together.forEach((draws, pair) => {
      draws[round] = Math.tanh((z[ITEM] as Float64Array)[pair] as number);
    });
    this.#centre[round] = Math.tanh(centre);
    this.#pace[round] = sampler.pace;
  }

  told({ parts, places, ages }: JointSampler): Told {
    const earns = parts.some(({ aging, young }) => aging === 'earns' && young.length > 0);
    return {
      spreads: this.#spreads,
      scales: parts.map(({ scale }) => scale),
      hasSites: places.hasSites,
      shares: this.#shares,
      together: this.#together,
      centre: parts.length > 1 ? this.#centre : undefined,
      pace: ages ? this.#pace : undefined,
      earned: earns ? this.#earned : undefined,
    };
  }
}
