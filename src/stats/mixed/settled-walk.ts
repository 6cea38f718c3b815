import { backwardInPlace } from '../numbers/cholesky-in-place.ts';
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
 *
 * @param centre the likeliest point, also where the chain starts
 * @param factor lower Cholesky factor of minus the second derivatives there, row by row
 */
export function settledWalk(
  centre: Float64Array,
  factor: Float64Array,
  random: { uniform(): number; normal(): number; gamma(shape: number): number },
): Walk {
  const size = centre.length;
  const point = Float64Array.from(centre);
  const proposal = new Float64Array(size);
  const move = new Float64Array(size);
  let proposed = Number.NEGATIVE_INFINITY;

  /** Log density of proposing a point, up to a constant. */
  function logProposal(at: Float64Array): number {
    let square = 0;
    for (let column = 0; column < size; column++) {
      let sum = 0;
      for (let row = column; row < size; row++) {
        sum +=
          (factor[row * size + column] as number) * ((at[row] as number) - (centre[row] as number));
      }
      square += sum * sum;
    }
    return (-(TAIL + size) / 2) * Math.log1p(square / (TAIL * WIDER * WIDER));
  }

  function propose(from: Float64Array, length: number): void {
    for (let k = 0; k < size; k++) move[k] = random.normal();
    backwardInPlace(factor, size, move);
    for (let k = 0; k < size; k++) proposal[k] = (from[k] as number) + length * (move[k] as number);
  }

  return {
    point,
    step(current, density) {
      const strolls = random.uniform() < STROLLS;
      if (strolls) propose(point, 2.38 / Math.sqrt(size));
      else propose(centre, WIDER / Math.sqrt(random.gamma(TAIL / 2) / (TAIL / 2)));
      proposed = density(proposal);
      const turn = strolls ? 0 : logProposal(point) - logProposal(proposal);
      const taken = Math.log(1 - random.uniform()) < proposed - current + turn;
      if (taken) point.set(proposal);
      return taken;
    },
    density: () => proposed,
  };
}
