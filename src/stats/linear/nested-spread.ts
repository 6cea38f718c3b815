import type { Factor } from '../numbers/factor.ts';
import { additiveFit } from './additive-fit.ts';

/** Rows of treatments in blocks, taken from inner groups that lie within outer ones, and these within treatments. */
export interface NestedLayout {
  readonly y: readonly number[];
  readonly block: Factor;
  readonly treatment: Factor;
  /** Such as the trees of a cultivar; absent where a treatment is one group. */
  readonly outer: Factor | undefined;
  /** Such as a tree in a season. */
  readonly inner: Factor;
  /** What the variance between outer groups is expected to be, as a share of that between inner ones. */
  readonly expected: number;
}

/** Variances in squared units of y. */
export interface NestedSpread {
  /** Of a row within its inner group. */
  readonly row: number;
  /** Between inner groups of an outer one, and between outer groups of a treatment. */
  readonly inner: number;
  readonly outer: number;
  /** By treatment: the variance that its rows, were they alone, had to have for its mean to be as unsure. */
  readonly asRows: readonly number[];
  /** What the mean square of treatments, blocks allowed for, comes to where no two differ. */
  readonly error: number;
  /** Degrees of freedom of that. */
  readonly df: number;
}

/** Degrees of freedom that `expected` weighs as much as. */
const EXPECTATION = 5;

/**
 * How far rows, inner and outer groups scatter, by their mean squares beside the blocks.
 *
 * Formula: Henderson's method 3 (1953, Biometrics 9:226-252): what fits of inner groups, outer groups and treatments
 * leave in turn, held against its expectation, in which blocks count by the share of degrees of freedom that they
 * leave. What comes out below 0 is 0, and its rows are pooled with those within. Outer groups are few as a rule (most
 * cultivars have one tree), so their variance is drawn to the expected share of the inner one, which weighs as much as
 * `EXPECTATION` degrees of freedom. The error of treatments is the sum of variances that its expectation asks for, on
 * the degrees of freedom of Satterthwaite (1946, Biometrics Bulletin 2:110-114); a mean is as much less sure as the
 * groups it is of make it (the design effect: Kish 1965, Survey Sampling, chapter 5).
 *
 * @returns `undefined` where blocks and treatments leave no degree of freedom
 * @throws RangeError as `additiveFit` does
 */
export function nestedSpread(layout: NestedLayout): NestedSpread | undefined {
  const { y, block, treatment, inner, expected } = layout;
  const outer = layout.outer ?? treatment;
  const [ofTreatments, ofOuter, ofInner] = [treatment, outer, inner].map((group) =>
    leftBy(y, group, block),
  ) as [Left, Left, Left];
  if (ofTreatments.df < 1) return undefined;
  const last = { ...ofTreatments, free: freeShare(ofTreatments, y, treatment) };
  const middle = { ...ofOuter, free: freeShare(ofOuter, y, outer) };
  const within = ofInner.df > 0 ? ofInner : ofOuter.df > 0 ? ofOuter : ofTreatments;
  const innerTerm = termOf(ofOuter, ofInner, middle.free * scatter(inner, outer));
  const outerTerm = termOf(ofTreatments, ofOuter, last.free * scatter(outer, treatment));
  // How often the inner variance is in the mean square of outer groups.
  const carried =
    outerTerm.df > 0
      ? (last.free * scatter(inner, treatment) - middle.free * scatter(inner, outer)) / outerTerm.df
      : 0;

  const found = within === ofInner ? innerTerm.varianceOver(within.ms) : 0;
  const rows = found > 0 ? within : within === ofInner ? ofOuter : within;
  const seen = outerTerm.varianceOver(rows.ms + carried * found);
  const own = layout.outer === undefined ? 0 : outerTerm.df / (outerTerm.df + EXPECTATION);
  const drawn = layout.outer === undefined ? 0 : (1 - own) * expected;
  const between = own * seen + drawn * found;
  const least = found > 0 || between > 0 ? rows : ofTreatments;

  const terms = y.length - used(block) - ofTreatments.df;
  const often = (group: Factor) =>
    terms < 1
      ? 0
      : Math.max(0, scatter(group, block) - last.free * scatter(group, treatment)) / terms;
  const [innerOften, outerOften] = [often(inner), often(outer)];
  const error = least.ms + innerOften * found + outerOften * between;
  // The error as a sum of mean squares.
  const byOuter = seen > 0 ? (own * outerOften) / outerTerm.often : 0;
  const byInner =
    found > 0 ? (innerOften + outerOften * drawn - byOuter * carried) / innerTerm.often : 0;
  const parts = [
    { share: 1 - byInner - byOuter, of: least },
    { share: byInner, of: innerTerm },
    { share: byOuter, of: outerTerm },
  ].filter(({ share }) => share !== 0);
  const spread = parts.reduce((sum, { share, of }) => sum + (share * of.ms) ** 2 / of.df, 0);
  return {
    row: least.ms,
    inner: found,
    outer: between,
    asRows: asRows(layout, { row: least.ms, inner: found, outer: between }),
    error,
    df: spread === 0 ? ofTreatments.df : error ** 2 / spread,
  };
}

/** What a fit leaves: sum of squares, degrees of freedom, mean square. */
interface Left {
  readonly square: number;
  readonly df: number;
  readonly ms: number;
}

function leftBy(y: readonly number[], group: Factor, block: Factor): Left {
  const { residualSumOfSquares: square, df } = additiveFit(y, [group, block]);
  return { square, df, ms: df > 0 ? square / df : 0 };
}

/** What a finer fit takes off what a coarser one leaves, and how often a variance of its groups is in its mean square. */
function termOf(coarse: Left, fine: Left, scatter: number) {
  const df = coarse.df - fine.df;
  const ms = df > 0 ? (coarse.square - fine.square) / df : 0;
  const often = df > 0 ? scatter / df : 0;
  const varianceOver = (rest: number) => (often > 0 ? Math.max(0, (ms - rest) / often) : 0);
  return { df, ms, often, varianceOver };
}

/** Share of the degrees of freedom within groups that blocks leave. */
function freeShare({ df }: Left, y: readonly number[], group: Factor): number {
  return df / Math.max(1, y.length - used(group));
}

function used({ levels }: Factor): number {
  return new Set(levels).size;
}

/** Sum of squares about their means within others of the indicators of all groups: n - sum of n_gw^2 / n_w. */
function scatter(group: Factor, within: Factor): number {
  const [own, all] = [new Map<string, number>(), new Float64Array(within.count)];
  group.levels.forEach((level, row) => {
    const other = within.levels[row] ?? 0;
    const key = `${level} ${other}`;
    own.set(key, (own.get(key) ?? 0) + 1);
    all[other] = (all[other] ?? 0) + 1;
  });
  let sum = group.levels.length;
  for (const [key, count] of own) {
    sum -= (count * count) / (all[Number(key.split(' ')[1])] ?? 1);
  }
  return sum;
}

/** By treatment: that of rows + the sum of squared numbers of rows in its groups over all its rows, times that of groups. */
function asRows(
  { treatment, inner, outer }: NestedLayout,
  variance: { readonly row: number; readonly inner: number; readonly outer: number },
): number[] {
  const counts = new Float64Array(treatment.count);
  for (const level of treatment.levels) counts[level] = (counts[level] ?? 0) + 1;
  const all = new Array<number>(treatment.count).fill(variance.row);
  const add = (group: Factor, between: number) => {
    const sizes = new Map<number, { treatment: number; rows: number }>();
    group.levels.forEach((level, row) => {
      const own = sizes.get(level) ?? { treatment: treatment.levels[row] ?? 0, rows: 0 };
      sizes.set(level, { ...own, rows: own.rows + 1 });
    });
    for (const { treatment: at, rows } of sizes.values()) {
      all[at] = (all[at] ?? 0) + (between * rows * rows) / (counts[at] ?? 1);
    }
  };
  if (variance.inner > 0) add(inner, variance.inner);
  if (outer !== undefined && variance.outer > 0) add(outer, variance.outer);
  return all;
}
