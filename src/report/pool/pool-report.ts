import { RANK_SEED } from '../../judge/index/simulation.ts';
import { type CropPool, type Pooled, poolCrops } from '../../judge/pool/pool-crops.ts';
import type { PooledCultivar } from '../../judge/pool/same-cultivars.ts';
import { TOP } from '../../judge/top-ranks.ts';
import { assembleReport } from '../assemble-report.ts';
import { countColumn, intervalColumns, numberColumn, shareColumn, textColumn } from '../columns.ts';
import { whyNot } from '../judged/rank-notes.ts';
import { percent } from '../report-request.ts';
import type { Column, Report, Row } from '../table.ts';
import { poolNotes } from './pool-notes.ts';
import type { PoolMaterial, PoolReportRequest } from './pool-request.ts';
import { poolTitle } from './pool-title.ts';

/** Cultivars over several gardens, crops apart: what to expect in gardens like these, in another one, and at home. */
export function poolReport(material: PoolMaterial, request: PoolReportRequest): Report {
  const [home] = material.gardens;
  if (home === undefined) throw new RangeError('a pool needs a garden');
  const { ledger } = home;
  const top = request.top ?? TOP;
  const pools = poolCrops(
    material.gardens,
    material.same,
    {
      crops: request.selection.crops,
      confidence: request.confidence,
      top,
      seed: request.seed ?? RANK_SEED,
    },
    material.isHomeIn,
  );
  const isAskedFor = (cultivar: PooledCultivar) =>
    request.rows?.has(material.same.cultivars.indexOf(cultivar)) ?? true;
  const shown = pools.map((pool) => ({
    ...pool,
    ranked: pool.ranked.filter(({ cultivar }) => isAskedFor(cultivar)),
    unranked: pool.unranked.filter(({ cultivar }) => isAskedFor(cultivar)),
  }));
  const report = assembleReport(ledger, request, {
    report: 'pool',
    what: 'Several gardens',
    title: poolTitle(material, request, pools),
    by: ['cultivar'],
    records: [],
    columns: columns(request, top),
    rows: shown.flatMap((pool) => pool.ranked.map((one) => rowOf(pool, one))),
    machineRows: {
      rows: shown.flatMap(({ crop, unranked }) =>
        unranked.map(
          ({ cultivar, lacks }): Row => ({
            rank: null,
            cultivar: cultivar.name,
            crop,
            gardens: 0,
            why: whyNot(ledger, { lacks }),
          }),
        ),
      ),
      ifAlone: 'Nothing can be judged over these gardens yet.',
    },
    order: { blocks: ['crop'], key: 'rank:asc' },
    notes: poolNotes(material, request, pools, shown, top),
    whyEmpty: 'Nothing was counted, picked or tasted in this selection of the gardens.',
  });
  return {
    ...report,
    selection: { ...report.selection, ...Object.fromEntries(request.keptTo) },
  };
}

function rowOf({ crop }: CropPool, one: Pooled): Row {
  return {
    rank: one.rank,
    cultivar: one.cultivar.name,
    crop,
    index: one.index,
    low: one.low,
    high: one.high,
    newLow: one.newLow,
    newHigh: one.newHigh,
    topShare: one.topShare,
    newTopShare: one.newTopShare,
    here: one.here?.index ?? null,
    hereLow: one.here?.low ?? null,
    hereHigh: one.here?.high ?? null,
    judgedHere: one.here === undefined ? null : one.isJudgedHere,
    gardens: one.at.length,
    trees: one.trees,
    seasons: one.seasons,
    tastings: one.tastings,
    indexError: one.error,
    why: null,
  };
}

function columns({ confidence }: PoolReportRequest, top: number): readonly Column[] {
  const index = numberColumn('index', 1, { label: 'In gardens like these', drop: 0 });
  const here = numberColumn('here', 1, { label: 'Here at home', drop: 2 });
  const label = `${percent(confidence)} %`;
  const [low, high] = intervalColumns(index, ['low', 'high'], confidence, 0);
  const [newLow, newHigh] = intervalColumns(index, ['newLow', 'newHigh'], confidence, 1);
  const [hereLow, hereHigh] = intervalColumns(here, ['hereLow', 'hereHigh'], confidence, 6);
  return [
    countColumn('rank', { label: 'Rank', drop: 0 }),
    textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    index,
    { ...low, label },
    high,
    // Two intervals under one head would be told apart by nobody.
    { ...newLow, label: `A garden not here, ${label}`, short: `Elsewhere, ${label}` },
    { ...newHigh, short: `Elsewhere, ${label}` },
    here,
    { ...hereLow, label: `Home, ${label}`, short: `Home, ${label}` },
    { ...hereHigh, short: `Home, ${label}` },
    countColumn('gardens', { label: 'Gardens', drop: 3 }),
    countColumn('trees', { label: 'Trees', drop: 4 }),
    shareColumn('newTopShare', 0, { label: `Top ${top} elsewhere`, drop: 5 }),
    shareColumn('topShare', 0, { label: top === 1 ? 'First' : `Top ${top}`, drop: 7 }),
    countColumn('seasons', { label: 'Seasons', drop: 9 }),
    countColumn('tastings', { label: 'Tastings', drop: 8 }),
    { ...textColumn('judgedHere', { label: 'Judged at home', drop: 9 }), machineOnly: true },
    {
      ...numberColumn('indexError', 3, { label: 'Error of simulation', drop: 9 }),
      machineOnly: true,
    },
    // People read the reasons in a note: sentences would crowd the figures out.
    { ...textColumn('why', { label: 'Why not ranked', drop: 0 }), machineOnly: true },
  ];
}
