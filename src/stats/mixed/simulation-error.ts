/** Fewer would tell their own spread badly. */
const BATCHES = 20;
/** As many of these make up a batch. */
const SHORT = 3;

/**
 * Standard error that a figure has from its draws being finitely many, by batch means: the draws are parted into
 * batches that lie together in the chain, and the figure of the whole is taken to vary as that of a batch, over the
 * root of their number (Flegal and Jones 2010, Annals of Statistics 38:1034-1070). Batches take from both halves
 * of the draws alike, so that mirror images (see `mixedDraws`) stay together.
 *
 * What successive batches have in common makes the variance look too small, and the more so the shorter they are: twice
 * that of the long batches less that of batches a third as long makes up for it (the lugsail estimator of Vats and
 * Flegal 2022, Biometrika 109:735-750; citation from memory). It is not taken below what the long batches say.
 *
 * @param draws how many there are
 * @param figure of some draws, told by their numbers from `from` to below `to` in either half
 * @returns 0 where there are too few draws for a batch each
 */
export function simulationError(
  draws: number,
  figure: (from: number, to: number, half: number) => number,
): number {
  const long = varianceBy(BATCHES, draws, figure);
  const short = varianceBy(BATCHES * SHORT, draws, figure);
  return Math.sqrt(Math.max(long, 2 * long - short));
}

/** Of the figure of all draws, as batches tell it. */
function varianceBy(
  batches: number,
  draws: number,
  figure: (from: number, to: number, half: number) => number,
): number {
  const half = Math.floor(draws / 2);
  const size = Math.floor(half / batches);
  if (size === 0) return 0;
  let mean = 0;
  let squares = 0;
  for (let batch = 0; batch < batches; batch++) {
    const value = figure(batch * size, (batch + 1) * size, half);
    // Welford 1962, Technometrics 4:419-420.
    const off = value - mean;
    mean += off / (batch + 1);
    squares += off * (value - mean);
  }
  return squares / (batches - 1) / batches;
}

/** The draws of a batch, for a figure that needs them all together. */
export function batchOf(draws: Float64Array, from: number, to: number, half: number): Float64Array {
  const size = to - from;
  const batch = new Float64Array(2 * size);
  batch.set(draws.subarray(from, to));
  batch.set(draws.subarray(half + from, half + to), size);
  return batch;
}
