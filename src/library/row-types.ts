import type { Verdict } from '../judge/verdict/verdict.ts';
import type { Cell } from '../report/table.ts';

/** A row of any report; a figure that cannot be had is null. */
export type ReportRow = Readonly<Record<string, Cell>>;

/** What can stand in a cell, by the word for it in the lists below. */
interface CellTypes {
  readonly name: string;
  readonly crop: 'early' | 'main';
  readonly verdict: Verdict;
  readonly text: string | null;
  readonly figure: number | null;
  readonly flag: boolean | null;
  readonly mixed: string | number | null;
}

/**
 * The cells that every row of a report has, by kind; words with spaces between. Those of `rank` have
 * one more for each weighted part.
 */
export const ROW_CELLS = {
  rank: {
    name: 'cultivar',
    crop: 'crop',
    figure:
      'rank index low high rankLow rankHigh topShare indexError trees seasons tastings newLow newHigh newTopShare',
    text: 'letters onEdgeWith why',
  },
  verdict: {
    name: 'cultivar rule',
    crop: 'crop',
    verdict: 'verdict',
    figure:
      'index low high seasons tastings trees settled1Season settled2Seasons settled4Seasons settledAnotherTree settled2SeasonsAnotherTree settled3Tastings settled6Tastings settled2Seasons3Tastings',
    text: 'why edge wanted settledSide',
  },
  yield: {
    text: 'tree cultivar site season crop',
    figure:
      'load branches fruitPerBranch fruitPerBranchLow fruitPerBranchHigh picked pickedShare pickedWeight weightPerBranch trunkArea yieldEfficiency trees',
  },
  weights: {
    text: 'cultivar crop',
    figure: 'weighed fruit mean low high sd cv median q1 q3 min max trees',
  },
  crops: {
    text: 'cultivar',
    figure:
      'earlyTrees earlyLoad earlyPicked earlyWeight earlyWeightAtLeast earlyShareOfWeight mainTrees mainLoad mainPicked mainWeight mainWeightAtLeast mainShareOfWeight',
  },
  soundness: {
    text: 'cultivar crop',
    figure: 'fruit sound share low high split bird insect animal mould unripe dropped',
  },
  'soundness-after': {
    text: 'cultivar crop',
    figure: 'fruitAfter splitAfter shareAfter fruitRest splitRest shareRest difference low high',
  },
  ripening: {
    text: 'cultivar crop season first p10 p50 p90 last soFar',
    figure: 'windowDays daysFromStandard degreeDays shareBeforeFrost',
  },
  scores: {
    text: 'cultivar crop trait letters',
    figure: 'mean se low high raw samples tasters group',
  },
  preference: {
    text: 'cultivar crop',
    figure: 'group before beforeLow beforeHigh worth logWorth se low high orders wins',
  },
  words: { text: 'cultivar crop word', figure: 'times tasters sittings share' },
  compare: {
    name: 'part',
    crop: 'crop',
    text: 'unit verdict',
    mixed: 'a b',
    figure: 'difference low high',
  },
  stability: {
    text: 'cultivar crop',
    figure:
      'environments mean slope slopeSe slopeLow slopeHigh shukla wricke alternation alternationPairs trees',
  },
  pool: {
    name: 'cultivar',
    crop: 'crop',
    flag: 'judgedHere',
    figure:
      'rank index low high newLow newHigh here hereLow hereHigh gardens trees newTopShare topShare seasons tastings indexError',
    text: 'why',
  },
  'pool-names': { text: 'cultivar garden name also taken why', figure: 'gardens' },
} as const;

/** Text that rows have besides where an option asks for it: what they are told apart by, as a rule. */
export const ADDED_CELLS = {
  rank: 'cover borrows',
  verdict: 'cover',
  weights: 'tree site season',
  crops: 'tree site season',
  soundness: 'tree site season',
  'soundness-after': 'tree site season',
  ripening: 'tree site',
  scores: 'tree',
} as const;

type Listed = typeof ROW_CELLS;
type Added = typeof ADDED_CELLS;
type AddedTo<Report> = Report extends keyof Added ? Words<Added[Report]> : never;
type Words<Text> = Text extends `${infer First} ${infer Rest}` ? First | Words<Rest> : Text;
type KindOf<Cells, Key> = {
  [Kind in keyof Cells]: Key extends Words<Cells[Kind]> ? Kind : never;
}[keyof Cells] &
  keyof CellTypes;
type RowOf<Report extends keyof Listed, Cells = Listed[Report]> = ReportRow & {
  readonly [Key in Words<Cells[keyof Cells]> & string]: CellTypes[KindOf<Cells, Key>];
} & { readonly [Key in AddedTo<Report> & string]?: string | null };

export type RankRow = RowOf<'rank'>;
export type VerdictRow = RowOf<'verdict'>;
export type YieldRow = RowOf<'yield'>;
export type WeightsRow = RowOf<'weights'>;
export type CropsRow = RowOf<'crops'>;
export type SoundnessRow = RowOf<'soundness'>;
/** Of soundness with `after`. */
export type SplitsRow = RowOf<'soundness-after'>;
export type RipeningRow = RowOf<'ripening'>;
export type ScoresRow = RowOf<'scores'>;
export type PreferenceRow = RowOf<'preference'>;
export type WordsRow = RowOf<'words'>;
export type CompareRow = RowOf<'compare'>;
export type StabilityRow = RowOf<'stability'>;
export type PoolRow = RowOf<'pool'>;
export type PoolNamesRow = RowOf<'pool-names'>;
