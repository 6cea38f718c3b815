import type { Verdict } from '../judge/verdict/verdict.ts';
import type { Cell } from '../report/table.ts';

/** A row of any report; a figure that cannot be had is null. */
export type ReportRow = Readonly<Record<string, Cell>>;

/** Figures of a report, of which any may be missing. */
type Figures<Keys extends string> = { readonly [Key in Keys]: number | null };
type Texts<Keys extends string> = { readonly [Key in Keys]: string | null };

/** Besides, a cell for each weighted part, by its key. */
export type RankRow = ReportRow & {
  readonly cultivar: string;
  readonly crop: 'early' | 'main';
} & Figures<
    | 'rank'
    | 'index'
    | 'low'
    | 'high'
    | 'rankLow'
    | 'rankHigh'
    | 'topShare'
    | 'trees'
    | 'seasons'
    | 'tastings'
    | 'newLow'
    | 'newHigh'
    | 'newTopShare'
  > &
  Texts<'letters' | 'onEdgeWith' | 'why'>;

export type VerdictRow = ReportRow & {
  readonly cultivar: string;
  readonly crop: 'early' | 'main';
  readonly verdict: Verdict;
  /** The rule that led to it. */
  readonly rule: string;
} & Figures<'index' | 'low' | 'high' | 'seasons' | 'tastings' | 'trees'> &
  Texts<'why' | 'edge' | 'wanted'>;

export type YieldRow = ReportRow &
  Texts<'tree' | 'cultivar' | 'site' | 'season' | 'crop'> &
  Figures<
    | 'load'
    | 'branches'
    | 'fruitPerBranch'
    | 'fruitPerBranchLow'
    | 'fruitPerBranchHigh'
    | 'picked'
    | 'pickedShare'
    | 'pickedWeight'
    | 'weightPerBranch'
    | 'trunkArea'
    | 'yieldEfficiency'
    | 'trees'
  >;

export type WeightsRow = ReportRow &
  Texts<'cultivar' | 'crop'> &
  Figures<
    | 'weighed'
    | 'fruit'
    | 'mean'
    | 'low'
    | 'high'
    | 'sd'
    | 'cv'
    | 'median'
    | 'q1'
    | 'q3'
    | 'min'
    | 'max'
    | 'trees'
  >;

export type SoundnessRow = ReportRow &
  Texts<'cultivar' | 'crop'> &
  Figures<
    | 'fruit'
    | 'sound'
    | 'share'
    | 'low'
    | 'high'
    | 'split'
    | 'bird'
    | 'insect'
    | 'mould'
    | 'unripe'
    | 'dropped'
  >;

export type ScoresRow = ReportRow &
  Texts<'cultivar' | 'crop' | 'trait' | 'letters'> &
  Figures<'mean' | 'se' | 'low' | 'high' | 'raw' | 'samples' | 'tasters' | 'group'>;

export type WordsRow = ReportRow &
  Texts<'cultivar' | 'crop' | 'word'> &
  Figures<'times' | 'tasters' | 'sittings' | 'share'>;
