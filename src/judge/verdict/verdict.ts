import type { Selection } from '../../measure/selection.ts';
import type { Ledger, VerdictSettings } from '../../model/ledger.ts';
import type { Evidence } from '../index/evidence.ts';
import {
  type Candidate,
  type CropRanking,
  type Ranked,
  type RankOptions,
  rankCrops,
} from '../index/rank.ts';
import { EDGE } from '../index/simulation.ts';
import { type Remedies, remedies } from './remedies.ts';

export const VERDICTS = ['increase', 'retain', 'watch', 'discard'] as const;
export type Verdict = (typeof VERDICTS)[number];

/** Which rule led to the verdict. */
export type VerdictRule =
  | 'surely-above-increase'
  | 'surely-above-discard'
  | 'surely-below-discard'
  | 'spans-discard'
  | 'thin-evidence'
  | 'young-trees'
  | 'not-ranked';

export interface Judgement extends Candidate {
  readonly verdict: Verdict;
  readonly rule: VerdictRule;
  /** Other verdicts that the error of simulation leaves open: with another seed it might be one of them. */
  readonly edge: readonly Verdict[];
  /** Absent where it could not be ranked. */
  readonly index: number | undefined;
  readonly low: number | undefined;
  readonly high: number | undefined;
  /** Its place, and the chance to be truly the best, among those that it is ranked with. */
  readonly rank: number | undefined;
  readonly firstShare: number | undefined;
  /** Weighted parts without evidence. */
  readonly lacks: readonly string[];
  /** What is missing to the least that the ledger asks for. */
  readonly seasonsMissing: number;
  readonly tastingsMissing: number;
  /** What might settle a verdict that the interval leaves open; absent where nothing is open but for thin evidence. */
  readonly remedies: Remedies | undefined;
}

/**
 * What to do with each cultivar's crop, by the ledger's marks and the interval of the index. Thin
 * evidence is always `watch`: fewer seasons or tastings than `verdict` in ledger.yaml asks for, or
 * no index at all. So is a cultivar of which no tree is past its third year. Else: `increase` if even the lower end is at or above `increaseAbove`; `discard`
 * if even the upper end is at or below `discardBelow`; `retain` if the lower end is at or above
 * `discardBelow`; `watch` if the interval spans that mark.
 */
export function judge(
  ledger: Ledger,
  selection: Selection,
  options: RankOptions,
): readonly Judgement[] {
  return judgeRankings(ledger, rankCrops(ledger, selection, options));
}

/** The same where cultivars are ranked already. */
export function judgeRankings(
  ledger: Ledger,
  rankings: readonly CropRanking[],
): readonly Judgement[] {
  const settings = ledger.trial.verdict;
  return rankings.flatMap(({ ranked, unranked }) => [
    ...ranked.map((one) => judgeRanked(one, settings)),
    ...unranked.map(
      (one): Judgement => ({
        ...one,
        ...missing(one, settings),
        verdict: 'watch',
        rule: 'not-ranked',
        edge: [],
        index: undefined,
        low: undefined,
        high: undefined,
        rank: undefined,
        firstShare: undefined,
        remedies: undefined,
      }),
    ),
  ]);
}

function missing({ seasons, tastings }: Candidate, settings: VerdictSettings) {
  return {
    seasonsMissing: Math.max(0, settings.minSeasons - seasons),
    tastingsMissing: Math.max(0, settings.minTastings - tastings),
  };
}

function judgeRanked(one: Ranked, settings: VerdictSettings): Judgement {
  const lack = missing(one, settings);
  const [verdict, rule] = ruleFor(one, settings, lack);
  const mark = openMark(one, settings, rule);
  return {
    ...one,
    ...lack,
    verdict,
    rule,
    edge: edgeOf(one, settings, lack, verdict),
    lacks: [],
    remedies: mark === undefined ? undefined : remedies(one, mark),
  };
}

/** What else the verdict would be if an end of the interval lay a few errors of simulation to either side. */
function edgeOf(
  one: Ranked,
  settings: VerdictSettings,
  lack: ReturnType<typeof missing>,
  verdict: Verdict,
): readonly Verdict[] {
  const low = EDGE * one.errors.low;
  const high = EDGE * one.errors.high;
  const others = [-1, 1].flatMap((sign) => [
    ruleFor({ ...one, low: one.low + sign * low }, settings, lack)[0],
    ruleFor({ ...one, high: one.high + sign * high }, settings, lack)[0],
  ]);
  return VERDICTS.filter((other) => other !== verdict && others.includes(other));
}

function ruleFor(
  one: Ranked,
  settings: VerdictSettings,
  lack: ReturnType<typeof missing>,
): readonly [Verdict, VerdictRule] {
  const { low, high } = one;
  if (lack.seasonsMissing > 0 || lack.tastingsMissing > 0) return ['watch', 'thin-evidence'];
  if (isYoung(one)) return ['watch', 'young-trees'];
  if (low >= settings.increaseAbove) return ['increase', 'surely-above-increase'];
  if (high <= settings.discardBelow) return ['discard', 'surely-below-discard'];
  if (low >= settings.discardBelow) return ['retain', 'surely-above-discard'];
  return ['watch', 'spans-discard'];
}

/** The mark that the interval spans and more evidence could get it clear of. */
function openMark(
  { index }: Ranked,
  { increaseAbove, discardBelow }: VerdictSettings,
  rule: VerdictRule,
): number | undefined {
  if (rule === 'spans-discard') return discardBelow;
  // A retained one that may well belong to those to increase.
  if (rule === 'surely-above-discard' && index > increaseAbove) return increaseAbove;
  return undefined;
}

/** Years up to which a tree tells little of what it will be; common practice, no source. */
export const YOUNG = 3;

/** Whether no tree of a cultivar was old enough to tell. */
export function isYoung({ oldest, trees }: Pick<Evidence, 'oldest' | 'trees'>): boolean {
  return trees > 0 && oldest !== undefined && oldest <= YOUNG;
}
