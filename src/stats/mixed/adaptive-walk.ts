import { choleskyInPlace } from '../numbers/cholesky-in-place.ts';
import type { Walk } from './walk.ts';

/** A walk that tunes itself while it warms up. */
export type AdaptiveWalk = Walk & {
  /** Ends tuning: from here on the chain is a plain Metropolis chain. */
  freeze(): void;
};

const RETUNE_EVERY = 50;

/**
 * Random walk with the shape of its steps learnt from its own past during warm-up (Haario, Saksman and Tamminen
 * 2001, Bernoulli 7:223-242) and their length steered to a share of 0.25 taken (Roberts, Gelman and Gilks 1997,
 * Annals of Applied Probability 7:110-120).
 */
export function adaptiveWalk(
  start: readonly number[],
  random: { uniform(): number; normal(): number },
): AdaptiveWalk {
  const size = start.length;
  const point = Float64Array.from(start);
  const proposal = new Float64Array(size);
  const factor = new Float64Array(size * size);
  for (let k = 0; k < size; k++) factor[k * size + k] = 0.4;
  const noise = new Float64Array(size);
  const past = emptyMoments(size);
  let length = 2.38 / Math.sqrt(size);
  let proposed = Number.NEGATIVE_INFINITY;
  let tuning = true;
  let steps = 0;

  function tune(taken: boolean): void {
    steps++;
    length *= Math.exp(((taken ? 1 : 0) - 0.25) / Math.sqrt(steps));
    addMoment(past, point);
    if (steps % RETUNE_EVERY !== 0 || steps < 2 * RETUNE_EVERY) return;
    covariance(past, factor);
    choleskyInPlace(factor, size);
    // The first steps come from a poor start: forget them once.
    if (steps === 4 * RETUNE_EVERY) clearMoments(past);
  }

  return {
    point,
    step(current, density) {
      for (let k = 0; k < size; k++) noise[k] = random.normal();
      for (let row = 0; row < size; row++) {
        let move = 0;
        for (let k = 0; k <= row; k++)
          move += (factor[row * size + k] as number) * (noise[k] as number);
        proposal[row] = (point[row] as number) + length * move;
      }
      proposed = density(proposal);
      const taken = Math.log(1 - random.uniform()) < proposed - current;
      if (taken) point.set(proposal);
      if (tuning) tune(taken);
      return taken;
    },
    density: () => proposed,
    freeze() {
      tuning = false;
    },
  };
}

type Moments = { count: number; sum: Float64Array; product: Float64Array };

function emptyMoments(size: number): Moments {
  return { count: 0, sum: new Float64Array(size), product: new Float64Array(size * size) };
}

function clearMoments(moments: Moments): void {
  moments.count = 0;
  moments.sum.fill(0);
  moments.product.fill(0);
}

function addMoment(moments: Moments, point: Float64Array): void {
  const size = point.length;
  moments.count++;
  for (let row = 0; row < size; row++) {
    const value = point[row] as number;
    moments.sum[row] = (moments.sum[row] as number) + value;
    for (let column = 0; column <= row; column++) {
      const at = row * size + column;
      moments.product[at] = (moments.product[at] as number) + value * (point[column] as number);
    }
  }
}

/** Covariance of the points so far, lifted off zero so that no direction is closed. */
function covariance(moments: Moments, into: Float64Array): void {
  const { count, sum, product } = moments;
  const size = sum.length;
  for (let row = 0; row < size; row++) {
    for (let column = 0; column <= row; column++) {
      const at = row * size + column;
      const centre = ((sum[row] as number) * (sum[column] as number)) / count;
      const value = ((product[at] as number) - centre) / Math.max(1, count - 1);
      into[at] = row === column ? value + 1e-3 : value;
    }
  }
}
