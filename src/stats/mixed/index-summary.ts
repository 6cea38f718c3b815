/** What the draws of one item's index say; ranks count from 1, the greatest index first. */
export type IndexSummary = {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
  readonly rankLow: number;
  readonly rankHigh: number;
  /** Chance of a rank of `top` or better. */
  readonly topShare: number;
  /** Chance of the first rank. */
  readonly firstShare: number;
};

/**
 * Estimate, interval, rank interval and chance of the top from joint draws of the index.
 *
 * The interval leaves equally many draws out at either end; the rank interval is the shortest run of ranks that
 * holds at least the level of the draws (of equally short ones the fullest).
 *
 * @param draws by item; draw d of all items belongs together
 * @param options.level 0 to 1, such as 0.9
 * @param options.top how many ranks count as the top
 */
export function indexSummary(
  draws: readonly (Float64Array | undefined)[],
  options: { readonly level: number; readonly top: number },
): (IndexSummary | undefined)[] {
  const ranks = rankCounts(draws);
  return draws.map((own, item) => {
    const counts = ranks[item];
    if (own === undefined || counts === undefined || own.length === 0) return undefined;
    const sorted = own.toSorted();
    const tail = (1 - options.level) / 2;
    const [rankLow, rankHigh] = shortestRun(counts, options.level * own.length);
    return {
      estimate: own.reduce((sum, value) => sum + value, 0) / own.length,
      low: sortedQuantile(sorted, tail),
      high: sortedQuantile(sorted, 1 - tail),
      rankLow: rankLow + 1,
      rankHigh: rankHigh + 1,
      topShare: counts.subarray(0, options.top).reduce((sum, count) => sum + count, 0) / own.length,
      firstShare: (counts[0] ?? 0) / own.length,
    };
  });
}

/** By item, how many draws put it at each rank; equal values are ranked in the order given. */
function rankCounts(draws: readonly (Float64Array | undefined)[]): (Int32Array | undefined)[] {
  const ranked = [...draws.keys()].filter((item) => draws[item] !== undefined);
  const counts = draws.map((own) => own && new Int32Array(ranked.length));
  const count = draws.find((own) => own !== undefined)?.length ?? 0;
  const order = [...ranked];
  const values = new Float64Array(draws.length);
  for (let d = 0; d < count; d++) {
    for (const item of ranked) values[item] = draws[item]?.[d] ?? 0;
    // The order of the last draw is kept: it is a fair start for the next.
    order.sort((a, b) => (values[b] as number) - (values[a] as number) || a - b);
    for (let rank = 0; rank < order.length; rank++) {
      const own = counts[order[rank] as number];
      if (own !== undefined) own[rank] = (own[rank] ?? 0) + 1;
    }
  }
  return counts;
}

function shortestRun(counts: Int32Array, needed: number): [number, number] {
  let best: [number, number] = [0, counts.length - 1];
  let bestHeld = 0;
  let from = 0;
  let held = 0;
  counts.forEach((count, to) => {
    held += count;
    while (held - (counts[from] ?? 0) >= needed) {
      held -= counts[from] ?? 0;
      from++;
    }
    if (held < needed) return;
    const shorter = to - from - (best[1] - best[0]);
    if (shorter < 0 || (shorter === 0 && held > bestHeld)) {
      best = [from, to];
      bestHeld = held;
    }
  });
  return best;
}

/** Type 7 of Hyndman and Fan 1996, The American Statistician 50:361-365. */
function sortedQuantile(sorted: Float64Array, p: number): number {
  const at = (sorted.length - 1) * p;
  const low = Math.floor(at);
  const below = sorted[low] as number;
  const above = sorted[Math.min(low + 1, sorted.length - 1)] as number;
  return below + (at - low) * (above - below);
}
