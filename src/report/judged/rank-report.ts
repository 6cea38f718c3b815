import { weighedParts } from '../../judge/index/gather-trial.ts';
import { type Candidate, type CropRanking, rankCrops } from '../../judge/index/rank.ts';
import { RANK_SEED } from '../../judge/index/simulation.ts';
import { TOP } from '../../judge/top-ranks.ts';
import { selectRecords } from '../../measure/crop-record.ts';
import { allows, withEveryCultivar } from '../../measure/selection.ts';
import { COVER_WORDS, type Ledger } from '../../model/ledger.ts';
import { assembleReport } from '../assemble-report.ts';
import {
  cell,
  countColumn,
  intervalColumns,
  numberColumn,
  shareColumn,
  textColumn,
} from '../columns.ts';
import { cultivarName } from '../names.ts';
import { percent } from '../report-request.ts';
import { rowColumn } from '../row-columns.ts';
import type { Column, Report, Row } from '../table.ts';
import { sentence } from '../words.ts';
import { ALONE, isAlone, type RankRequest, rankNotes, whyNot } from './rank-notes.ts';

/** Cultivars of each crop by their weighted index, and those that cannot be ranked with the reason. */
export function rankReport(ledger: Ledger, request: RankRequest): Report {
  const top = request.top ?? TOP;
  const all = rankCrops(ledger, withEveryCultivar(request.selection), {
    confidence: request.confidence,
    top,
    seed: request.seed ?? RANK_SEED,
    byCover: request.byCover,
    bothWays: request.bothWays,
  });
  const rankings = all
    .map((ranking) => shownOf(ranking, request))
    .filter(({ ranked, unranked }) => ranked.length + unranked.length > 0);
  const unrankedRows = ({ unranked }: CropRanking) =>
    unranked.map(
      (one): Row => ({
        ...evidenceCells(ledger, one),
        // Told of all covers in one row, it has no figure that could be one cover's.
        ...(request.byCover ? withoutParts(one) : {}),
        rank: null,
        why: whyNot(ledger, one),
      }),
    );
  const rows = rankings.filter(hasRanks).flatMap((ranking) => [
    ...ranking.ranked.map(
      (one): Row => ({
        ...evidenceCells(ledger, one),
        index: one.index,
        low: one.low,
        high: one.high,
        newLow: one.newLow,
        newHigh: one.newHigh,
        indexError: one.errors.estimate,
        ...(isAlone(all, one)
          ? { rank: null, why: ALONE }
          : {
              rank: one.rank,
              rankLow: one.rankLow,
              rankHigh: one.rankHigh,
              topShare: one.topShare,
              newTopShare: one.newTopShare,
              letters: one.letters,
              onEdgeWith:
                one.onEdgeWith.length === 0
                  ? null
                  : one.onEdgeWith.map((other) => cultivarName(ledger, other)).join(', '),
              why: null,
            }),
      }),
    ),
    ...unrankedRows(ranking),
  ]);
  return assembleReport(ledger, request, {
    report: 'rank',
    what: 'Rank',
    by: request.byCover ? ['cultivar', 'cover'] : ['cultivar'],
    records: selectRecords(ledger, request.selection),
    columns: columns(ledger, request, top),
    rows,
    // People find a crop without any rank in one note: a list of names with no figure would only be long.
    machineRows: {
      rows: rankings.filter((one) => !hasRanks(one)).flatMap(unrankedRows),
      ifAlone: 'No rank can be given yet.',
    },
    order: { blocks: request.byCover ? ['crop', 'cover'] : ['crop'], key: 'rank:asc' },
    strips: [{ after: 'low', low: 'low', point: 'index', high: 'high', drop: 8 }],
    sitesApart: request.byCover ? '--site' : '--by cover',
    notes: rankNotes(ledger, request, rankings, all),
    ifNoRows: 'Nothing was counted, picked or tasted in this selection.',
  });
}

/** The cultivars that were asked for, as they stand among all. */
function shownOf(ranking: CropRanking, { selection }: RankRequest): CropRanking {
  const isAskedFor = ({ cultivar }: Candidate) => allows(selection.cultivars, cultivar.key);
  return {
    ...ranking,
    ranked: ranking.ranked.filter(isAskedFor),
    unranked: ranking.unranked.filter(isAskedFor),
    unseen: ranking.unseen.filter(({ key }) => allows(selection.cultivars, key)),
  };
}

function hasRanks({ ranked }: CropRanking): boolean {
  return ranked.length > 0;
}

function columns(
  ledger: Ledger,
  { confidence, byCover }: RankRequest,
  top: number,
): readonly Column[] {
  const index = numberColumn('index', 1, { label: 'Index', drop: 0 });
  const rank = countColumn('rank', { label: 'Rank', drop: 0 });
  const [rankLow, rankHigh] = intervalColumns(rank, ['rankLow', 'rankHigh'], confidence, 3);
  const [newLow, newHigh] = intervalColumns(
    { ...index, digits: 1 },
    ['newLow', 'newHigh'],
    confidence,
    9,
  );
  // A grower acts on the parts of the index, the heavy ones first, before any statistics.
  const parts = weighedParts(ledger);
  const byWeight = parts.toSorted(([, a], [, b]) => b - a).map(([part]) => part);
  const short = shortHeads(parts.map(([part]) => sentence(part)));
  return [
    rank,
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    ...(byCover ? [coverColumn()] : []),
    index,
    ...intervalColumns(index, ['low', 'high'], confidence, 0),
    { ...rankLow, label: `Ranks, ${percent(confidence)} %`, short: 'Ranks' },
    rankHigh,
    shareColumn('topShare', 0, { label: top === 1 ? 'First' : `Top ${top}`, drop: 4 }),
    textColumn('letters', { label: 'Letters', drop: 5 }),
    // People read of pairs near the mark in a note, and no digit that the seed could move.
    { ...textColumn('onEdgeWith', { label: 'On the edge with', drop: 9 }), machineOnly: true },
    {
      ...numberColumn('indexError', 3, { label: 'Error of simulation', drop: 9 }),
      machineOnly: true,
    },
    ...parts.map(([part], at) => ({
      ...numberColumn(part, 1, {
        label: sentence(part),
        drop: 1 + byWeight.indexOf(part) / parts.length,
      }),
      short: short[at] ?? sentence(part),
    })),
    ...(byCover
      ? [{ ...textColumn('borrows', { label: 'Seen elsewhere', drop: 9 }), machineOnly: true }]
      : []),
    countColumn('trees', { label: 'Trees', drop: 2 }),
    countColumn('seasons', { label: 'Seasons', drop: 7 }),
    countColumn('tastings', { label: 'Tastings', drop: 6 }),
    { ...newLow, label: `New tree, ${percent(confidence)} %`, short: 'New tree' },
    newHigh,
    shareColumn('newTopShare', 0, { label: 'New tree top', drop: 10 }),
    // People read the reasons in a note: sentences would crowd the figures out.
    { ...textColumn('why', { label: 'Why not ranked', drop: 0 }), machineOnly: true },
  ];
}

/** What is overhead: the key where machines read. */
export function coverColumn(): Column {
  return { ...textColumn('cover', { label: 'Cover', drop: 0 }), words: COVER_WORDS };
}

function evidenceCells(ledger: Ledger, one: Candidate): Row {
  return {
    cultivar: cultivarName(ledger, one.cultivar),
    crop: one.crop,
    cover: cell(one.cover),
    borrows: one.borrows.length === 0 ? null : one.borrows.join(', '),
    ...Object.fromEntries([...one.parts].map(([part, estimate]) => [part, cell(estimate)])),
    trees: one.trees,
    seasons: one.seasons,
    tastings: one.tastings,
  };
}

function withoutParts({ parts }: Candidate): Row {
  return Object.fromEntries([...parts.keys()].map((part) => [part, null]));
}

const LONGEST = 5;
const SHORTEST = 3;

/**
 * Words cut to heads of narrow columns, "Sound" for "Soundness": five letters at most, less the
 * vowels that then end them, and as many more as part them from each other.
 */
export function shortHeads(words: readonly string[]): readonly string[] {
  return words.map((word) => {
    const lengths = Array.from({ length: word.length }, (_, at) => at + 1);
    const enough = lengths.find(
      (length) =>
        length >= Math.min(LONGEST, word.length) &&
        words.every((other) => other === word || !other.startsWith(word.slice(0, length))),
    );
    const head = word.slice(0, enough ?? word.length);
    if (head.length !== LONGEST || head === word) return head;
    const bare = head.replace(/[aeiou]+$/i, '');
    const isTold = words.every((other) => other === word || !other.startsWith(bare));
    return bare.length >= SHORTEST && isTold ? bare : head;
  });
}
