import { backwardInPlace } from '../numbers/cholesky-in-place.ts';
import type { SeededRandom } from '../random/seeded-random.ts';
import type { Walk } from './walk.ts';

/** Of the tails of what is proposed, in degrees of freedom: heavier than those of any spread that data bear on. */
const TAIL = 5;
/** How much wider than the target the proposals are. */
const WIDER = 1.1;
/** Share of plain steps from where the chain stands, in case it has got to where few proposals come. */
const STROLLS = 0.25;

/**
 * A Metropolis-Hastings sampler that proposes from about the likeliest point, whatever the current one
 * (Tierney 1994, Annals of Statistics 22:1701-1728): where the density is close to normal its draws hardly
 * depend on one another.
 */
export class SettledWalk implements Walk {
  readonly point: Float64Array;
  readonly #centre: Float64Array;
  readonly #factor: Float64Array;
  readonly #random: Randomness;
  readonly #proposal: Float64Array;
  readonly #move: Float64Array;
  #proposed = Number.NEGATIVE_INFINITY;

  /**
   * @param centre the likeliest point, also where the chain starts
   * @param factor lower Cholesky factor of minus the second derivatives there, row by row
   */
  constructor(centre: Float64Array, factor: Float64Array, random: Randomness) {
    this.point = Float64Array.from(centre);
    this.#centre = centre;
    this.#factor = factor;
    this.#random = random;
    this.#proposal = new Float64Array(centre.length);
    this.#move = new Float64Array(centre.length);
  }

  step(current: number, density: (point: Float64Array) => number): boolean {
    const random = this.#random;
    const strolls = random.uniform() < STROLLS;
    if (strolls) this.#propose(this.point, 2.38 / Math.sqrt(this.point.length));
    else this.#propose(this.#centre, WIDER / Math.sqrt(random.gamma(TAIL / 2) / (TAIL / 2)));
    this.#proposed = density(this.#proposal);
    const turn = strolls ? 0 : this.#logProposal(this.point) - this.#logProposal(this.#proposal);
    const taken = Math.log(1 - random.uniform()) < this.#proposed - current + turn;
    if (taken) this.point.set(this.#proposal);
    return taken;
  }

  density(): number {
    return this.#proposed;
  }

  /** Log density of proposing a point, up to a constant. */
  #logProposal(at: Float64Array): number {
    const [centre, factor, size] = [this.#centre, this.#factor, at.length];
    let square = 0;
    for (let column = 0; column < size; column++) {
      let sum = 0;
      for (let row = column; row < size; row++) {
        const off = (at[row] as number) - (centre[row] as number);
        sum += (factor[row * size + column] as number) * off;
      }
      square += sum * sum;
    }
    return (-(TAIL + size) / 2) * Math.log1p(square / (TAIL * WIDER * WIDER));
  }

  #propose(from: Float64Array, length: number): void {
    const [move, size] = [this.#move, from.length];
    this.#random.normals(move, size);
    backwardInPlace(this.#factor, size, move);
    for (let k = 0; k < size; k++) {
      this.#proposal[k] = (from[k] as number) + length * (move[k] as number);
    }
  }
}

type Randomness = Pick<SeededRandom, 'uniform' | 'normals' | 'gamma'>;
