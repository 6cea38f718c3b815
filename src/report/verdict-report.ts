import { MOST, type Remedy } from '../judge/remedies.ts';
import { EDGE, RANK_SEED } from '../judge/simulation.ts';
import { type Judgement, judge, VERDICTS } from '../judge/verdict.ts';
import { selectRecords } from '../measure/crop-record.ts';
import { allows, withEveryCultivar } from '../measure/selection.ts';
import type { Ledger } from '../model/ledger.ts';
import { assembleReport } from './assemble-report.ts';
import { cell, countColumn, intervalColumns, numberColumn, textColumn } from './columns.ts';
import { note } from './common-notes.ts';
import { cultivarName } from './names.ts';
import { explanation, type RankRequest, whyNot } from './rank-report.ts';
import { percent } from './report-request.ts';
import type { Column, Note, Report, Row } from './table.ts';
import { counted, listed } from './words.ts';

/** What to do with each cultivar's crop, the rule that says so, and what would settle it. */
export function verdictReport(ledger: Ledger, request: RankRequest): Report {
  const { selection } = request;
  const all = judge(ledger, withEveryCultivar(selection), {
    confidence: request.confidence,
    top: 1,
    seed: request.seed ?? RANK_SEED,
  });
  const judgements = all.filter(({ cultivar }) => allows(selection.cultivars, cultivar.key));
  return assembleReport(ledger, request, {
    report: 'verdict',
    what: 'Verdict',
    by: ['cultivar'],
    records: selectRecords(ledger, request.selection),
    columns: columns(request.confidence),
    rows: judgements
      .toSorted((a, b) => VERDICTS.indexOf(a.verdict) - VERDICTS.indexOf(b.verdict))
      .map((one) => toRow(ledger, one)),
    order: { blocks: ['crop'] },
    notes: notes(ledger, request, judgements),
    ifNoRows: 'Nothing was counted, picked or tasted in this selection.',
  });
}

function columns(confidence: number): readonly Column[] {
  const index = numberColumn('index', 1, { label: 'Index', drop: 2 });
  return [
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('verdict', { label: 'Verdict', drop: 0 }),
    index,
    ...intervalColumns(index, ['low', 'high'], confidence, 0),
    countColumn('seasons', { label: 'Seasons', drop: 5 }),
    countColumn('tastings', { label: 'Tastings', drop: 4 }),
    countColumn('trees', { label: 'Trees', drop: 6 }),
    textColumn('why', { label: 'Why', drop: 0 }),
    { ...textColumn('edge', { label: 'On the edge of', drop: 9 }), machineOnly: true },
    textColumn('wanted', { label: 'Would settle it', drop: 1 }),
    { ...textColumn('rule', { label: 'Rule', drop: 9 }), machineOnly: true },
  ];
}

function toRow(ledger: Ledger, one: Judgement): Row {
  return {
    cultivar: cultivarName(ledger, one.cultivar),
    crop: one.crop,
    verdict: one.verdict,
    index: cell(one.index),
    low: cell(one.low),
    high: cell(one.high),
    seasons: one.seasons,
    tastings: one.tastings,
    trees: one.trees,
    why: [why(ledger, one), edgeWords(one)].filter((part) => part !== '').join('; '),
    edge: one.edge.length === 0 ? null : one.edge.join(', '),
    wanted: wanted(one) ?? null,
    rule: one.rule,
  };
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
        : `may be above ${increaseAbove}`;
    case 'spans-discard':
      return `may be above or below ${discardBelow}`;
    case 'thin-evidence':
      return [
        one.seasonsMissing > 0 ? `${one.seasons} of ${minSeasons} seasons` : '',
        one.tastingsMissing > 0 ? `${one.tastings} of ${minTastings} tastings` : '',
      ]
        .filter((part) => part !== '')
        .join(', ');
    case 'not-ranked':
      return whyNot(ledger, one);
  }
}

/** Whether the verdict hangs on the last digit of a simulation. */
function edgeWords({ edge }: Judgement): string {
  return edge.length === 0 ? '' : `on the edge of ${edge.join(' and ')}`;
}

/** What is missing, else the least that would bring the interval clear of the mark it spans. */
function wanted(one: Judgement): string | undefined {
  const least = [
    one.seasonsMissing > 0 ? counted(one.seasonsMissing, 'more season') : '',
    one.tastingsMissing > 0 ? counted(one.tastingsMissing, 'more tasting') : '',
  ].filter((part) => part !== '');
  if (least.length > 0) return `at least ${least.join(' and ')}`;
  if (one.remedies.length === 0) return undefined;
  const ways = one.remedies.filter((remedy) => remedy.more !== undefined);
  if (ways.length === 0) return `more than ${MOST} more of anything alone`;
  return ways.map(inWords).join(' or ');
}

const ONE: Readonly<Record<Remedy['of'], string>> = {
  seasons: 'season',
  trees: 'tree',
  tastings: 'tasting',
};

function inWords({ of, more = 0 }: Remedy): string {
  return counted(more, ONE[of]);
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
    note(
      'method',
      `By the ${percent(request.confidence)} % interval of the index (see rank): increase if all of it is above ${increaseAbove}, discard if all is below ${discardBelow}, retain if all is above ${discardBelow}, else watch. With fewer than ${counted(minSeasons, 'season')} or ${counted(minTastings, 'tasting')} always watch. The marks stand under verdict in ledger.yaml.`,
    ),
    note(
      'method',
      'Would settle it: so many more seasons, or trees, or tastings alone, if the estimate stayed where it is.',
    ),
    ...(request.explain === true
      ? [
          ...explanation(),
          `On the edge: the simulation has an error of its own (batch means of its draws), and an end of the interval lies within ${EDGE} such errors of a mark.`,
          'More evidence: given the spreads of a part, the variance of a mean is 1 / (1 / cultivar + 1 / (season / seasons + tree / trees + (plate + rest / scores) / plates)); the variance of the part is taken to shrink in that proportion (Henderson 1975, Biometrics 31:423-447).',
        ].map((text) => note('method', text))
      : []),
    rights.length === 0
      ? undefined
      : note(
          'caution',
          `Before propagating ${listed(rights.map(({ cultivar }) => cultivarName(ledger, cultivar)))}, check breeders' rights and plant-health rules where you live.`,
        ),
  ];
}
