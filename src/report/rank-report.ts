import { isMeasured, weighedParts } from '../judge/index-parts.ts';
import { type CropRanking, type Ranked, rankCrops, type Unranked } from '../judge/rank.ts';
import { selectRecords } from '../measure/crop-record.ts';
import type { Ledger, MeasuredPart } from '../model/ledger.ts';
import { assembleReport } from './assemble-report.ts';
import { cell, countColumn, numberColumn, textColumn } from './columns.ts';
import { note } from './common-notes.ts';
import { cultivarName } from './names.ts';
import type { ReportRequest } from './report-request.ts';
import type { Column, Note, Report, Row } from './table.ts';
import { listed } from './words.ts';

/** Cultivars of each crop by their weighted index, and those that cannot be ranked with the reason. */
export function rankReport(ledger: Ledger, request: ReportRequest): Report {
  const rankings = rankCrops(ledger, request.selection);
  const rows = rankings.flatMap(({ ranked, unranked }) => [
    ...ranked.map((one) => rankedRow(ledger, one)),
    ...unranked.map((one) => unrankedRow(ledger, one)),
  ]);
  return assembleReport(ledger, request, {
    report: 'rank',
    what: 'Rank',
    by: ['cultivar'],
    records: selectRecords(ledger, request.selection),
    columns: columns(ledger),
    rows,
    order: { blocks: ['crop'], key: 'rank:asc' },
    notes: notes(ledger, rankings),
    ifNoRows: 'Nothing was counted, picked or tasted in this selection.',
  });
}

function columns(ledger: Ledger): readonly Column[] {
  return [
    countColumn('rank', { label: 'Rank', drop: 0 }),
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    numberColumn('index', 2, { label: 'Index', drop: 0 }),
    ...weighedParts(ledger).map(([part], at) =>
      numberColumn(part, 1, { label: capital(part), drop: 5 + at }),
    ),
    countColumn('trees', { label: 'Trees', drop: 1 }),
    countColumn('seasons', { label: 'Seasons', drop: 3 }),
    countColumn('tastings', { label: 'Tastings', drop: 2 }),
    textColumn('why', { label: 'Why not ranked', drop: 0 }),
  ];
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function evidenceCells(ledger: Ledger, one: Ranked | Unranked): Row {
  return {
    cultivar: cultivarName(ledger, one.cultivar),
    crop: one.crop,
    ...Object.fromEntries(one.parts.map(({ part, onScale }) => [part, cell(onScale)])),
    trees: one.trees,
    seasons: one.seasons,
    tastings: one.tastings,
  };
}

function rankedRow(ledger: Ledger, one: Ranked): Row {
  return { rank: one.rank, index: one.index, why: null, ...evidenceCells(ledger, one) };
}

function unrankedRow(ledger: Ledger, one: Unranked): Row {
  return { rank: null, index: null, why: whyNot(ledger, one), ...evidenceCells(ledger, one) };
}

const MISSING: Readonly<Record<MeasuredPart, string>> = {
  productivity: 'branches not counted',
  size: 'no fruit weighed',
  soundness: 'no fruit picked',
  ripened: 'first frost not known',
};

function whyNot(ledger: Ledger, { lacks }: Unranked): string {
  if (weighedParts(ledger).length === 0) return 'no weights in ledger.yaml';
  const untasted = lacks.filter((part) => !isMeasured(part));
  const tasted =
    untasted.length === 0
      ? []
      : untasted.length === weighedParts(ledger).filter(([part]) => !isMeasured(part)).length
        ? ['not tasted ripe']
        : [`no score for ${listed(untasted)}`];
  const measured = lacks.filter(isMeasured).map((part) => MISSING[part]);
  return [...tasted, ...measured].join('; ');
}

function notes(ledger: Ledger, rankings: readonly CropRanking[]): readonly (Note | undefined)[] {
  const parts = weighedParts(ledger);
  if (parts.length === 0) {
    return [note('evidence', 'ledger.yaml weighs nothing: add rank: { weights: ... } to rank by.')];
  }
  const words = parts.map(([part, weight]) => `${part} ${weight}`).join(', ');
  const measured = parts.map(([part]) => part).filter(isMeasured);
  const { low, high } = ledger.trial.scale;
  const single = rankings.flatMap(({ ranked }) => ranked.filter(({ trees }) => trees === 1));
  return [
    note(
      'method',
      `Index: weighted mean of the parts on the scale of ${low} to ${high}; weights: ${words}.`,
    ),
    measured.length === 0
      ? undefined
      : note('method', `Put on the scale by the bands of ledger.yaml: ${listed(measured)}.`),
    parts.length === measured.length
      ? undefined
      : note('method', 'Tasted parts: plain means of all scores of fruit tasted ripe.'),
    single.length === 0
      ? undefined
      : note(
          'evidence',
          `${single.length} of the ranked rows rest on one tree: another tree may do otherwise.`,
        ),
    note(
      'caution',
      'Plain means do not allow for harsh or kind tasters, nor for a lucky plate: read close indexes as equal.',
    ),
  ];
}
