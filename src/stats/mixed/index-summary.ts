import { meanOfDraws } from './mean-of-draws.ts';
import { batchOf, simulationError } from './simulation-error.ts';

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
 * @param options.scale what no index can leave: estimate and interval keep to it, ranks and chances go by the draws
 */
export function indexSummary(
  draws: readonly (Float64Array | undefined)[],
  options: {
    readonly level: number;
    readonly top: number;
    readonly scale?: { readonly low: number; readonly high: number };
  },
): (IndexSummary | undefined)[] {
  const ranks = rankCounts(draws);
  const { low = -Infinity, high = Infinity } = options.scale ?? {};
  const onScale = (value: number) => Math.min(high, Math.max(low, value));
  return draws.map((own, item) => {
    const counts = ranks[item];
    if (own === undefined || counts === undefined || own.length === 0) return undefined;
    const sorted = own.toSorted();
    const tail = (1 - options.level) / 2;
    const [rankLow, rankHigh] = shortestRun(counts, options.level * own.length);
    return {
      estimate: onScale(meanOfDraws(own)),
      low: onScale(sortedQuantile(sorted, tail)),
      high: onScale(sortedQuantile(sorted, 1 - tail)),
      rankLow: rankLow + 1,
      rankHigh: rankHigh + 1,
      topShare: counts.subarray(0, options.top).reduce((sum, count) => sum + count, 0) / own.length,
      firstShare: (counts[0] ?? 0) / own.length,
    };
  });
}

/** Standard errors that figures of one item have from the simulation alone. */
export type IndexErrors = {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
};

/** How far estimate and ends of the interval would move with another seed; see `simulationError`. */
export function indexErrors(draws: Float64Array, level: number): IndexErrors {
  const tail = (1 - level) / 2;
  const of = (figure: (batch: Float64Array) => number) =>
    simulationError(draws.length, (from, to, half) => figure(batchOf(draws, from, to, half)));
  return {
    estimate: of(meanOfDraws),
    low: of((batch) => sortedQuantile(batch.sort(), tail)),
    high: of((batch) => sortedQuantile(batch.sort(), 1 - tail)),
  };
}

/** By item, how many draws put it at each rank; equal values are ranked in the order given. */
function rankCounts(draws: readonly (Float64Array | undefined)[]): (Int32Array | undefined)[] {
  const ranked = draws.filter((own) => own !== undefined);
  const counts = ranked.map(() => new Int32Array(ranked.length));
  const order = Int32Array.from(ranked.keys());
  const values = new Float64Array(ranked.length);
  for (let d = 0; d < (ranked[0]?.length ?? 0); d++) {
    for (let k = 0; k < ranked.length; k++) values[k] = (ranked[k] as Float64Array)[d] as number;
    sortFrom(order, values);
    for (let rank = 0; rank < order.length; rank++) {
      const own = counts[order[rank] as number] as Int32Array;
      own[rank] = (own[rank] as number) + 1;
    }
  }
  let next = 0;
  return draws.map((own) => own && counts[next++]);
}

/** Sorts from the greatest value on, by insertion: the order of the last draw is a fair start for the next. */
function sortFrom(order: Int32Array, values: Float64Array): void {
  for (let at = 1; at < order.length; at++) {
    const moved = order[at] as number;
    const value = values[moved] as number;
    let place = at;
    for (; place > 0; place--) {
      const before = order[place - 1] as number;
      const other = values[before] as number;
      if (other > value || (other === value && before < moved)) break;
      order[place] = before;
    }
    order[place] = moved;
  }
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
