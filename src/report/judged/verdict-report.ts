import { EDGE, RANK_SEED } from '../../judge/index/simulation.ts';
import { PLANS } from '../../judge/verdict/remedies.ts';
import { type Judgement, judge, VERDICTS } from '../../judge/verdict/verdict.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { allows, withEveryCultivar } from '../../measure/selection.ts';
import type { Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import {
  cell,
  countColumn,
  intervalColumns,
  numberColumn,
  shareColumn,
  textColumn,
} from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropWord } from '../crop-words.ts';
import { cultivarName } from '../names.ts';
import { inTenths } from '../number-words.ts';
import { percent } from '../report-request.ts';
import { rowColumn } from '../row-columns.ts';
import { type OwnOrder, orderRows } from '../row-order.ts';
import type { Column, Note, Report, Row } from '../table.ts';
import { counted, listed } from '../words.ts';
import { bandNotes, ONLY_YOUNG } from './model-notes.ts';
import { explanation } from './rank-explanation.ts';
import { type RankRequest, whyNot } from './rank-notes.ts';
import { coverColumn } from './rank-report.ts';
import { chanceOf, likelierSide, PLAN_NAMES, planWords, settleWords } from './settle-words.ts';

/** What to do with each cultivar's crop, the rule that says so, and what would settle it. */
export function verdictReport(ledger: Ledger, request: RankRequest): Report {
  const { selection } = request;
  const all = judge(ledger, withEveryCultivar(selection), {
    confidence: request.confidence,
    top: 1,
    seed: request.seed ?? RANK_SEED,
    byCover: request.byCover,
    bothWays: request.bothWays,
  });
  const judgements = all.filter(({ cultivar }) => allows(selection.cultivars, cultivar.key));
  const columnsOf = columns(request);
  const order: OwnOrder = { blocks: request.byCover ? ['crop', 'cover'] : ['crop'] };
  const sorted = judgements.toSorted(
    (a, b) => VERDICTS.indexOf(a.verdict) - VERDICTS.indexOf(b.verdict),
  );
  const rows = sorted.map((one) => toRow(ledger, one));
  const brief = sorted.map((one) => ({ ...toRow(ledger, one), why: briefWhy(ledger, one) }));
  const inOrder = (all: readonly Row[]) =>
    orderRows(columnsOf, all, order, { sort: request.sort, top: request.top }).rows;
  return assembleReport(ledger, request, {
    report: 'verdict',
    what: 'Verdict',
    by: request.byCover ? ['cultivar', 'cover'] : ['cultivar'],
    records: selectRecords(ledger, request.selection),
    columns: columnsOf,
    rows,
    order,
    screen: { columns: columnsOf, rows: inOrder(brief) },
    sitesApart: request.byCover ? '--site' : '--by cover',
    notes: notes(ledger, request, judgements),
    ifNoRows: 'Nothing was counted, picked or tasted in this selection.',
  });
}

function columns({ confidence, byCover }: RankRequest): readonly Column[] {
  // Where there is room for one of them it is the interval that is told.
  const index = numberColumn('index', 1, { label: 'Index', drop: 2 });
  return [
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    ...(byCover ? [coverColumn()] : []),
    textColumn('verdict', { label: 'Verdict', drop: 0 }),
    index,
    ...intervalColumns(index, ['low', 'high'], confidence, 1),
    countColumn('seasons', { label: 'Seasons', drop: 5 }),
    countColumn('tastings', { label: 'Tastings', drop: 4 }),
    countColumn('trees', { label: 'Trees', drop: 6 }),
    textColumn('why', { label: 'Why', drop: 0 }),
    { ...textColumn('edge', { label: 'On the edge of', drop: 9 }), machineOnly: true },
    { ...textColumn('wanted', { label: 'Would settle it', drop: 3 }), whole: true },
    ...PLAN_NAMES.map((name) => ({
      ...shareColumn(name, 0, { label: `Settled: ${planWords(PLANS[name])}`, drop: 9 }),
      machineOnly: true,
    })),
    { ...textColumn('settledSide', { label: 'Settled on the side', drop: 9 }), machineOnly: true },
    { ...textColumn('rule', { label: 'Rule', drop: 9 }), machineOnly: true },
  ];
}

function toRow(ledger: Ledger, one: Judgement): Row {
  return {
    cultivar: cultivarName(ledger, one.cultivar),
    crop: one.crop,
    cover: cell(one.cover),
    verdict: one.verdict,
    index: cell(one.index),
    low: cell(one.low),
    high: cell(one.high),
    seasons: one.seasons,
    tastings: one.tastings,
    trees: one.trees,
    why: [why(ledger, one), treeless(ledger, one), edgeWords(one)]
      .filter((part) => part !== '')
      .join('; '),
    edge: one.edge.length === 0 ? null : one.edge.join(', '),
    wanted: wanted(ledger, one) ?? null,
    ...Object.fromEntries(
      PLAN_NAMES.map((name) => [name, one.remedies ? chanceOf(one.remedies[name]) : null]),
    ),
    settledSide: one.remedies ? likelierSide(one.remedies.settled2Seasons) : null,
    rule: one.rule,
  };
}

/** Why, in as few words as a terminal has room for. */
function briefWhy(ledger: Ledger, one: Judgement): string {
  const gone = treeless(ledger, one);
  const behind = gone === '' ? '' : `; ${gone}`;
  if (one.rule !== 'thin-evidence') return `${why(ledger, one)}${behind}`;
  const short = [
    one.seasonsMissing > 0 ? counted(one.seasonsMissing, 'season') : '',
    one.tastingsMissing > 0 ? counted(one.tastingsMissing, 'tasting') : '',
  ].filter((part) => part !== '');
  const all = one.everywhere.tastings;
  const isTastedElsewhere = one.tastingsMissing > 0 && all > one.tastings;
  return `${short.join(', ')} short${isTastedElsewhere ? ` there, ${all} in all` : ''}${behind}`;
}

/** What stands in the way of seeing more of it. */
function treeless(ledger: Ledger, { cultivar }: Judgement): string {
  const isLeft = [...ledger.trees.values()].some(
    (tree) => tree.cultivar === cultivar && tree.removed === undefined,
  );
  return isLeft ? '' : 'no tree left';
}

function why(ledger: Ledger, one: Judgement): string {
  const { increaseAbove, discardBelow, minSeasons, minTastings } = ledger.trial.verdict;
  switch (one.rule) {
    case 'surely-above-increase':
      return `all above ${increaseAbove}`;
    case 'surely-below-discard':
      return `all below ${discardBelow}`;
    case 'surely-above-discard':
      return (one.high ?? 0) < increaseAbove
        ? `between ${discardBelow} and ${increaseAbove}`
        : `above ${discardBelow}, perhaps above ${increaseAbove}`;
    case 'spans-discard':
      return `may be above or below ${discardBelow}`;
    case 'thin-evidence':
      return [
        one.seasonsMissing > 0 ? ofLeast(one, 'seasons', minSeasons) : '',
        one.tastingsMissing > 0 ? ofLeast(one, 'tastings', minTastings) : '',
      ]
        .filter((part) => part !== '')
        .join(', ');
    case 'young-trees':
      return ONLY_YOUNG;
    case 'not-ranked':
      return whyNot(ledger, one);
  }
}

/** How much was seen of what the ledger asks for, and where covers are told apart how much over all of them. */
function ofLeast(one: Judgement, what: 'seasons' | 'tastings', least: number): string {
  const words = `${one[what]} of ${least} ${what}`;
  const all = one.everywhere[what];
  return all > one[what] ? `${words} there (${all} in all)` : words;
}

/** Whose evidence is thin under a cover alone: over all covers there is as much as the ledger asks for. */
function thinThereNote(ledger: Ledger, judgements: readonly Judgement[]): Note | undefined {
  const { minSeasons, minTastings } = ledger.trial.verdict;
  const thin = judgements.filter(
    ({ rule, everywhere }) =>
      rule === 'thin-evidence' &&
      everywhere.seasons >= minSeasons &&
      everywhere.tastings >= minTastings,
  );
  if (thin.length === 0) return undefined;
  const names = [...new Set(thin.map((one) => nameIn(ledger, one, judgements)))];
  return note(
    'evidence',
    `Seasons and tastings are counted under each cover by itself, so ${listed(names)} ${names.length === 1 ? 'is' : 'are'} watched where seen too seldom, though seen often enough in all. The index and its interval do draw on what was seen under other covers; without --by cover the verdict rests on everything.`,
  );
}

/** Whether the verdict hangs on the last digit of a simulation. */
function edgeWords({ edge }: Judgement): string {
  return edge.length === 0 ? '' : `on the edge of ${edge.join(' and ')}`;
}

/** What is missing, else the chance that more evidence settles it. */
function wanted(ledger: Ledger, one: Judgement): string | undefined {
  const more = moreEvidence(one);
  return more === undefined || treeless(ledger, one) === '' ? more : `a new tree; ${more}`;
}

function moreEvidence(one: Judgement): string | undefined {
  const least = [
    one.seasonsMissing > 0 ? counted(one.seasonsMissing, 'more season') : '',
    one.tastingsMissing > 0 ? counted(one.tastingsMissing, 'more tasting') : '',
  ].filter((part) => part !== '');
  if (least.length > 0) return `at least ${least.join(' and ')}`;
  return one.remedies && settleWords(one.remedies);
}

function nameIn(ledger: Ledger, one: Judgement, all: readonly Judgement[]): string {
  const isOneCrop = all.every(({ crop }) => crop === one.crop);
  const name = cultivarName(ledger, one.cultivar);
  return isOneCrop ? name : `${name} (${cropWord(ledger, one.crop)})`;
}

/** Verdicts that hang on the last digit of a simulation. */
function edgeNote(ledger: Ledger, judgements: readonly Judgement[]): Note | undefined {
  const near = judgements.filter(({ edge }) => edge.length > 0);
  if (near.length === 0) return undefined;
  const words = near.map(
    (one) => `${nameIn(ledger, one, judgements)} of ${one.edge.join(' and ')}`,
  );
  return shownNote('evidence', `On the edge: ${listed(words, 3)}.`);
}

const MOST_SETTLED = 2;

/** The verdicts that two more seasons are likeliest to settle. */
function settledSoonest(ledger: Ledger, judgements: readonly Judgement[]): string {
  const open = judgements.flatMap((one) =>
    one.remedies === undefined
      ? []
      : [
          {
            name: nameIn(ledger, one, judgements),
            plain: chanceOf(one.remedies.settled2Seasons),
            withTree: chanceOf(one.remedies.settled2SeasonsAnotherTree),
          },
        ],
  );
  const likely = open
    .filter(({ plain, withTree }) => Math.max(plain, withTree) >= 0.15)
    .toSorted((a, b) => b.withTree - a.withTree)
    .slice(0, MOST_SETTLED)
    .map(({ name, plain, withTree }) => `${name} ${inTenths(plain)} (${inTenths(withTree)})`);
  return likely.length === 0
    ? 'Two more seasons of the same would hardly settle any of the open ones.'
    : `Two more seasons (with another tree) settle: ${likely.join(', ')}.`;
}

function notes(
  ledger: Ledger,
  request: RankRequest,
  judgements: readonly Judgement[],
): readonly (Note | undefined)[] {
  const { minSeasons, minTastings, increaseAbove, discardBelow } = ledger.trial.verdict;
  const rights = judgements.filter(
    ({ verdict, cultivar }) => verdict === 'increase' && cultivar.protected !== false,
  );
  return [
    shownNote(
      'method',
      `By the ${percent(request.confidence)} % interval of the index (see rank): increase if all of it is above ${increaseAbove}, discard if all is below ${discardBelow}, retain if all is above ${discardBelow}, else watch. With fewer than ${counted(minSeasons, 'season')} or ${counted(minTastings, 'tasting')} always watch, and so if no tree is past its third year. The marks stand under verdict in ledger.yaml.`,
      `Surely above ${increaseAbove}: increase; above ${discardBelow}: retain; below it: discard; else watch.`,
    ),
    edgeNote(ledger, judgements),
    thinThereNote(ledger, judgements),
    judgements.some(({ remedies }) => remedies !== undefined)
      ? shownNote(
          'method',
          'Would settle it: the chance that the interval then lies clear of the mark, and on which side it is likelier to lie. Seasons and trees more are taken to be like those before.',
          settledSoonest(ledger, judgements),
        )
      : undefined,
    ...(request.explain === true
      ? [
          ...explanation(),
          `On the edge: the simulation has an error of its own (batch means of its draws), and an end of the interval lies within ${EDGE} such errors of a mark.`,
          'Would settle it: with the spreads as known, the plates that a plan adds leave so much of the variance of each part (Henderson 1975, Biometrics 31:423-447); the mean is then drawn from what is known now, and the interval drawn in about it (Raiffa and Schlaifer 1961, Applied Statistical Decision Theory, chapter 5). No random numbers. The JSON has the chances of all plans.',
        ].map((text) => note('method', text))
      : []),
    ...bandNotes(ledger, request.selection),
    rights.length === 0
      ? undefined
      : shownNote(
          'caution',
          `Before propagating ${listed(rights.map(({ cultivar }) => cultivarName(ledger, cultivar)))}, check breeders' rights and plant-health rules where you live.`,
        ),
  ];
}
