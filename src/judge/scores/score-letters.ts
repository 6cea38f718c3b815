import { tInterval } from '../../stats/intervals/t-interval.ts';
import { compactLetters } from '../../stats/linear/compact-letters.ts';
import { tukeyKramer } from '../../stats/linear/tukey-kramer.ts';
import type { Interval } from '../../stats/numbers/interval.ts';
import type { ScoreModel } from './score-models.ts';

/** Chance that letters part any two at all where none differ. */
export const LETTERS_ALPHA = 0.05;

/**
 * Letters of a model's means, by subject: in one group, two that share a letter have not been shown
 * to differ (Tukey-Kramer, all members of the group being one family). No letter where there is
 * nothing to compare with: alone in its group, or no standard error.
 */
export function scoreLetters(model: ScoreModel): readonly (string | undefined)[] {
  const letters = new Array<string | undefined>(model.subjects.length).fill(undefined);
  for (const { members, covariance } of model.groups) {
    if (covariance === undefined || members.length < 2) continue;
    const pairs = tukeyKramer({
      means: members.map((member) => model.means[member] ?? 0),
      covariance,
      df: model.df,
      alpha: LETTERS_ALPHA,
    });
    const apart = new Set(
      pairs
        .filter(({ differs }) => differs)
        .flatMap(({ first, second }) => [`${first} ${second}`, `${second} ${first}`]),
    );
    const order = [...members.keys()].toSorted(
      (a, b) => meanAt(model, members, b) - meanAt(model, members, a),
    );
    const found = compactLetters((i, j) => apart.has(`${i} ${j}`), order);
    for (const [at, place] of order.entries()) letters[members[place] ?? 0] = found[at];
  }
  return letters;
}

function meanAt(model: ScoreModel, members: readonly number[], place: number): number {
  return model.means[members[place] ?? 0] ?? 0;
}

/**
 * The t interval of a subject's mean on the residual degrees of freedom, not kept within the scale;
 * `undefined` where no standard error can be had.
 *
 * @param confidence a fraction, such as 0.95
 */
export function scoreLimits(
  { means, errors, df }: ScoreModel,
  subject: number,
  confidence: number,
): Interval | undefined {
  const [mean, se] = [means[subject], errors[subject]];
  if (mean === undefined || se === undefined) return undefined;
  return tInterval(mean, se, df, confidence);
}
