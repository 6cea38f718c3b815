import { compactLetters } from '../../stats/linear/compact-letters.ts';
import { simulationError } from '../../stats/mixed/simulation-error.ts';
import { APART, EDGE } from './simulation.ts';

/** Which of several can be told apart by draws that belong together. */
export interface ToldApart {
  /** Those that share a letter cannot be told apart. */
  readonly letters: readonly string[];
  /** By each, those of which the error of simulation leaves open whether they can be told apart from it. */
  readonly onEdgeWith: readonly ReadonlySet<number>[];
}

/**
 * Two can be told apart where one is above the other in `APART` of the draws; letters after Piepho (2004, Journal of
 * Computational and Graphical Statistics 13:456-466).
 *
 * @param draws best first
 */
export function toldApart(draws: readonly Float64Array[]): ToldApart {
  const spans = draws.map(spanOf);
  const onEdgeWith = draws.map(() => new Set<number>());
  const letters = compactLetters(
    (a, b) => {
      const apart = apartness(spans[a] as Span, spans[b] as Span);
      if (apart.onEdge) {
        onEdgeWith[a]?.add(b);
        onEdgeWith[b]?.add(a);
      }
      return apart.isApart;
    },
    draws.map((_, at) => at),
  );
  return { letters, onEdgeWith };
}

/** Draws with how far they reach. */
interface Span {
  readonly draws: Float64Array;
  readonly low: number;
  readonly high: number;
}

function spanOf(draws: Float64Array): Span {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let at = 0; at < draws.length; at++) {
    low = Math.min(low, draws[at] as number);
    high = Math.max(high, draws[at] as number);
  }
  return { draws, low, high };
}

/** Whether two can be told apart, and whether another seed might say otherwise. */
interface Apartness {
  readonly isApart: boolean;
  readonly onEdge: boolean;
}

const APART_FOR_SURE: Apartness = { isApart: true, onEdge: false };
const TOGETHER_FOR_SURE: Apartness = { isApart: false, onEdge: false };
/** A share further from the mark than this is not near it, whatever its error. */
const FAR = 0.02;

function apartness(one: Span, other: Span): Apartness {
  // Most pairs of a long list lie far apart.
  if (one.low > other.high || other.low > one.high) return APART_FOR_SURE;
  const share = shareAbove(one.draws, other.draws);
  if (share === undefined) return TOGETHER_FOR_SURE;
  const isApart = share >= APART;
  const off = Math.abs(share - APART);
  if (off > FAR) return isApart ? APART_FOR_SURE : TOGETHER_FOR_SURE;
  const error = simulationError(one.draws.length, (from, to, half) =>
    batchShare(one.draws, other.draws, from, to, half),
  );
  return { isApart, onEdge: off < EDGE * error };
}

/** In what share of the draws the one that is mostly above is above; undefined where it is far below the mark. */
function shareAbove(a: Float64Array, b: Float64Array): number | undefined {
  const few = (1 - APART + FAR) * a.length + 1;
  let above = 0;
  let below = 0;
  for (let at = 0; at < a.length; at++) {
    const value = a[at] as number;
    const other = b[at] as number;
    if (value > other) above++;
    else if (value < other) below++;
    // Too many of either kind already: most pairs are settled long before the last draw.
    if (above > few && below > few) return undefined;
  }
  // A draw in which they are equal counts for both.
  const share = (a.length + above - below) / (2 * a.length);
  return Math.max(share, 1 - share);
}

function batchShare(
  a: Float64Array,
  b: Float64Array,
  from: number,
  to: number,
  half: number,
): number {
  let net = 0;
  for (let at = from; at < to; at++) {
    net += Math.sign((a[at] as number) - (b[at] as number));
    net += Math.sign((a[half + at] as number) - (b[half + at] as number));
  }
  return net / (4 * (to - from));
}
