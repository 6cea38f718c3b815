import gammaln from '@stdlib/math-base-special-gammaln';
import type { SeededRandom } from '../random/seeded-random.ts';
import type { JointPrior } from './joint-prior.ts';
import { LEVELS, SITE } from './joint-trial.ts';
import type { PartChain } from './part-chain.ts';
import { shareParameters } from './spread-prior.ts';
import { Steps } from './steps.ts';

/** Levels, then plates. */
const SOURCES = LEVELS.length + 1;

/**
 * What the sources of variance have of the whole in all parts of a trial alike: the mean of the Dirichlet distribution
 * of each part's shares, itself Dirichlet. It is carried as gamma variates over their sum, each of which walks freely.
 */
export class CommonShares {
  /** Dirichlet parameters of a part's shares as they now stand: levels, then plates; 0 for sites that are not there. */
  readonly parameters = new Float64Array(SOURCES);
  readonly #shapes: Float64Array;
  readonly #sizes: Float64Array;
  readonly #near: number;
  readonly #random: SeededRandom;
  readonly #steps = new Steps(SOURCES, 0.5);
  /** By source, the sum over the parts of the logarithm of its share. */
  readonly #logs = new Float64Array(SOURCES);

  constructor(prior: JointPrior['shares'], hasSites: boolean, random: SeededRandom) {
    this.#shapes = shareParameters(prior.centre, hasSites);
    this.#sizes = this.#shapes.slice();
    this.#near = prior.near;
    this.#random = random;
    this.#share();
  }

  /** The common share of a source. */
  of(source: number): number {
    return (this.parameters[source] as number) / this.#near;
  }

  /** Two Metropolis steps for each source, given the spreads: part by part, of each level. */
  step(parts: readonly PartChain[], spreads: Float64Array): void {
    this.#addUpLogs(parts, spreads);
    let current = this.#density(parts.length);
    for (let step = 0; step < 2 * SOURCES; step++) {
      const source = step % SOURCES;
      if (this.#shapes[source] === 0) continue;
      const before = this.#sizes[source] as number;
      this.#sizes[source] = before * Math.exp(this.#steps.at(source) * this.#random.normal());
      const threshold = Math.log(1 - this.#random.uniform());
      this.#share();
      const proposed = this.#density(parts.length);
      const taken = threshold < proposed - current;
      this.#steps.tell(source, taken);
      if (taken) current = proposed;
      else this.#sizes[source] = before;
    }
    this.#share();
  }

  /** Ends the tuning of steps. */
  freeze(): void {
    this.#steps.freeze();
  }

  #share(): void {
    let total = 0;
    for (const size of this.#sizes) total += size;
    for (let source = 0; source < SOURCES; source++) {
      this.parameters[source] = (this.#near * (this.#sizes[source] as number)) / total;
    }
  }

  #addUpLogs(parts: readonly PartChain[], spreads: Float64Array): void {
    const [logs, levels] = [this.#logs.fill(0), LEVELS.length];
    for (let k = 0; k < parts.length; k++) {
      const plate = (parts[k] as PartChain).plate;
      let total = plate * plate;
      for (let level = 0; level < levels; level++) {
        if (level === SITE && this.#shapes[SITE] === 0) continue;
        const spread = spreads[k * levels + level] as number;
        total += spread * spread;
        logs[level] = (logs[level] as number) + 2 * Math.log(spread);
      }
      logs[levels] = (logs[levels] as number) + 2 * Math.log(plate);
      for (let source = 0; source < SOURCES; source++) {
        logs[source] = (logs[source] as number) - Math.log(total);
      }
    }
  }

  /** Log density of the shares of all parts and of the gamma variates, per unit of their logarithms, up to a constant. */
  #density(parts: number): number {
    let sum = 0;
    for (let source = 0; source < SOURCES; source++) {
      const shape = this.#shapes[source] as number;
      if (shape === 0) continue;
      const [own, size] = [this.parameters[source] as number, this.#sizes[source] as number];
      sum += own * (this.#logs[source] as number) - parts * gammaln(own);
      sum += shape * Math.log(size) - size;
    }
    return sum;
  }
}
