import { choleskyInPlace } from '../numbers/cholesky-in-place.ts';
import type { SeededRandom } from '../random/seeded-random.ts';
import { invert } from './effect-solver.ts';
import type { JointPrior } from './joint-prior.ts';

const STEP = 0.35;
/** Least pivot of a correlation matrix. */
const LEAST = 1e-6;

/**
 * How the parts go together at each level, under a prior of nested normals on Fisher's scale: of a level about its pair
 * of parts, of a pair about a centre, and of the centre, which is free. Matrices that are not positive definite have no
 * density.
 *
 * Steps leave the levels' density given their effects, so no normalising constant of the prior is needed.
 */
export class Correlations {
  /** By level: the inverse of its correlation matrix, parts x parts, and the log of its determinant. */
  readonly inverse: readonly Float64Array[];
  readonly logDeterminant: Float64Array;
  /** By level and pair, atanh of the correlation; pairs (0, 1), (0, 2), (1, 2), (0, 3) and so on. */
  readonly z: readonly Float64Array[];
  readonly pair: Float64Array;
  centre: number;
  readonly #parts: number;
  readonly #prior: JointPrior['together'];
  readonly #random: SeededRandom;
  readonly #matrix: Float64Array;
  readonly #proposed: Float64Array;
  #proposedLog = 0;

  /** @param levels which of the levels have effects at all */
  constructor(
    parts: number,
    levels: readonly boolean[],
    prior: JointPrior['together'],
    random: SeededRandom,
  ) {
    const pairs = (parts * (parts - 1)) / 2;
    this.#parts = parts;
    this.#prior = prior;
    this.#random = random;
    this.#matrix = new Float64Array(parts * parts);
    this.#proposed = new Float64Array(parts * parts);
    this.inverse = levels.map(() => new Float64Array(parts * parts));
    this.logDeterminant = new Float64Array(levels.length);
    this.z = levels.map((has) => new Float64Array(has ? pairs : 0));
    this.pair = new Float64Array(pairs);
    this.centre = 0;
    for (const inverse of this.inverse) {
      for (let k = 0; k < parts; k++) inverse[k * parts + k] = 1;
    }
  }

  /** Correlation matrix of a level, parts x parts. */
  matrix(level: number, into: Float64Array): void {
    const [parts, z] = [this.#parts, this.z[level] as Float64Array];
    let at = 0;
    for (let b = 0; b < parts; b++) {
      into[b * parts + b] = 1;
      for (let a = 0; a < b; a++) {
        const r = z.length === 0 ? 0 : Math.tanh(z[at++] as number);
        into[a * parts + b] = r;
        into[b * parts + a] = r;
      }
    }
  }

  /** Twice a Metropolis step for each pair of a level, given the cross-products of its effects over their spreads. */
  step(level: number, cross: Float64Array, count: number): void {
    const [z, prior] = [this.z[level] as Float64Array, this.#prior];
    let current = this.#logDensity(
      cross,
      count,
      this.inverse[level] as Float64Array,
      this.logDeterminant[level] as number,
    );
    for (let step = 0; step < 2 * z.length; step++) {
      const at = step % z.length;
      const before = z[at] as number;
      z[at] = before + STEP * this.#random.normal();
      const threshold = Math.log(1 - this.#random.uniform());
      if (this.#propose(level)) {
        const middle = this.pair[at] as number;
        const proposed = this.#logDensity(cross, count, this.#proposed, this.#proposedLog);
        const nearer =
          ((before - middle) ** 2 - ((z[at] as number) - middle) ** 2) / (2 * prior.level ** 2);
        if (threshold < proposed - current + nearer) {
          current = proposed;
          (this.inverse[level] as Float64Array).set(this.#proposed);
          this.logDeterminant[level] = this.#proposedLog;
          continue;
        }
      }
      z[at] = before;
    }
  }

  /** Draws the pairs given their levels, and the centre given the pairs. */
  drawCentres(): void {
    const { centre, pair, level } = this.#prior;
    let sum = 0;
    for (let at = 0; at < this.pair.length; at++) {
      let precision = 1 / pair ** 2;
      let right = this.centre / pair ** 2;
      for (const z of this.z) {
        if (z.length === 0) continue;
        precision += 1 / level ** 2;
        right += (z[at] as number) / level ** 2;
      }
      const drawn = right / precision + this.#random.normal() / Math.sqrt(precision);
      this.pair[at] = drawn;
      sum += drawn;
    }
    const precision = this.pair.length / pair ** 2 + 1 / centre.sd ** 2;
    const right = sum / pair ** 2 + centre.mean / centre.sd ** 2;
    this.centre = right / precision + this.#random.normal() / Math.sqrt(precision);
  }

  /** Factor of the matrix as it would now be; false if it is not positive definite. */
  #propose(level: number): boolean {
    const [parts, matrix] = [this.#parts, this.#matrix];
    this.matrix(level, matrix);
    choleskyInPlace(matrix, parts);
    let product = 1;
    for (let k = 0; k < parts; k++) {
      const pivot = matrix[k * parts + k] as number;
      if (!(pivot * pivot > LEAST)) return false;
      product *= pivot;
    }
    this.#proposedLog = 2 * Math.log(product);
    invert(matrix, 0, parts, this.#proposed);
    return true;
  }

  #logDensity(
    cross: Float64Array,
    count: number,
    inverse: Float64Array,
    logDeterminant: number,
  ): number {
    let trace = 0;
    for (let at = 0; at < cross.length; at++) {
      trace += (inverse[at] as number) * (cross[at] as number);
    }
    return -(count * logDeterminant + trace) / 2;
  }
}
