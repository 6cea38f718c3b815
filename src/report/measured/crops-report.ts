import { selectRecords } from '../../measure/crop-record.ts';
import { type CropTally, cropTally } from '../../measure/crop-tally.ts';
import type { RecordGroup } from '../../measure/group-records.ts';
import { groupRecords } from '../../measure/group-records.ts';
import { allows } from '../../measure/selection.ts';
import { cropOutlook } from '../../model/bearing.ts';
import type { Crop, Ledger } from '../../model/ledger.ts';
import { CROPS } from '../../model/ledger.ts';
import { assembleReport, selectedParts } from '../assemble-report.ts';
import { cell, countColumn, numberColumn, shareColumn } from '../columns.ts';
import { note, shownNote } from '../common-notes.ts';
import { cropPhrase, cropWord } from '../crop-words.ts';
import { cultivarName } from '../names.ts';
import type { ReportRequest } from '../report-request.ts';
import { rowsBy } from '../report-request.ts';
import { rowCells, rowColumns } from '../row-columns.ts';
import type { Cell, Column, Note, Report, Row } from '../table.ts';
import { listed, sentence } from '../words.ts';
import { unpickedEvidence, weightEvidence } from './yield-report.ts';

type Tallies = Readonly<Record<Crop, CropTally>>;

/** Early and main crop side by side. A crop that was not asked for is blank. */
export function cropsReport(ledger: Ledger, request: ReportRequest): Report {
  const by = rowsBy(request, ['cultivar']);
  const records = selectRecords(ledger, request.selection);
  const asked = CROPS.filter((crop) => allows(request.selection.crops, crop));
  const told = groupRecords(ledger, records, by, false)
    .map((group) => ({ group, tallies: cropTally(group.records) }))
    .toSorted((a, b) => bothWeights(b.tallies) - bothWeights(a.tallies));
  // A crop that no tree bore is no column of naughts to people.
  const seen = asked.filter((crop) => told.some(({ tallies }) => tallies[crop].trees > 0));
  const shownCrops = seen.length > 0 ? seen : asked;
  const what =
    shownCrops.length === 1
      ? 'Fruit and weight'
      : `${sentence(cropWord(ledger, 'early'))} and ${cropPhrase(ledger, 'main')}`;
  const crop = shownCrops.length === 1 ? shownCrops.map((one) => cropPhrase(ledger, one)) : [];
  const rest = selectedParts(
    ledger,
    { selection: { ...request.selection, crops: [] } },
    records.map(({ season }) => season),
    [],
  );
  return assembleReport(ledger, request, {
    report: 'crops',
    what,
    title: [`${what}${by.join() === 'cultivar' ? '' : ` by ${listed(by)}`}`, ...crop, ...rest].join(
      ', ',
    ),
    by,
    records,
    columns: [
      ...rowColumns(['cultivar'], by),
      ...CROPS.flatMap((crop) => cropColumns(ledger, crop, shownCrops)),
    ],
    rows: told.map(({ group, tallies }) => toRow(rowCells(ledger, group), tallies, asked)),
    order: { blocks: [] },
    notes: [
      note(
        'method',
        'Share of weight = picked weight of the crop / picked weight of both. Rows by picked weight of both; at least: where some pick has no weight, what was weighed.',
      ),
      ...evidenceNotes(records),
      outlookNote(
        ledger,
        told.map(({ group }) => group),
        shownCrops,
      ),
    ],
  });
}

/** By what is known of the weight: a pick that nobody weighed must not put a row last. */
function bothWeights({ early, main }: Tallies): number {
  const least = ({ weight, weightAtLeast = 0 }: CropTally) => weight ?? weightAtLeast;
  return least(early) + least(main);
}

function cropColumns(ledger: Ledger, crop: Crop, seen: readonly Crop[]): Column[] {
  const label = (what: string) => `${sentence(cropWord(ledger, crop))} ${what}`;
  const columns = [
    countColumn(`${crop}Trees`, { label: label('trees'), drop: 4 }),
    countColumn(`${crop}Load`, { label: label('load'), unit: 'fruit', drop: 1 }),
    countColumn(`${crop}Picked`, { label: label('picked'), unit: 'fruit', drop: 3 }),
    numberColumn(`${crop}Weight`, 0, { label: label('weight'), unit: 'g', drop: 0 }),
    numberColumn(`${crop}WeightAtLeast`, 0, { label: label('at least'), unit: 'g', drop: 0.7 }),
    {
      ...shareColumn(`${crop}ShareOfWeight`, 0, {
        label: label('share of weight'),
        // The two add up to all.
        drop: crop === 'early' ? 5 : 0.5,
      }),
      ...(seen.length > 1 ? {} : { machineOnly: true }),
    },
  ];
  return seen.includes(crop)
    ? columns
    : columns.map((column) => ({ ...column, machineOnly: true }));
}

function toRow(
  what: Readonly<Record<string, Cell>>,
  tallies: Tallies,
  asked: readonly Crop[],
): Row {
  const cells = CROPS.flatMap((crop) => {
    const tally = asked.includes(crop) ? tallies[crop] : undefined;
    const share = asked.length < CROPS.length ? undefined : tally?.shareOfWeight;
    return [
      [`${crop}Trees`, cell(tally?.trees)],
      [`${crop}Load`, cell(tally?.load)],
      [`${crop}Picked`, cell(tally?.picked)],
      [`${crop}Weight`, cell(tally?.weight)],
      [`${crop}WeightAtLeast`, cell(tally?.weightAtLeast)],
      [`${crop}ShareOfWeight`, cell(share)],
    ] as const;
  });
  return { ...what, ...Object.fromEntries(cells) };
}

function evidenceNotes(records: Parameters<typeof weightEvidence>[0]): Note[] {
  return [unpickedEvidence(records), weightEvidence(records)]
    .filter((text) => text !== '')
    .map((text) => shownNote('evidence', text));
}

/** Cultivars of which one crop cannot be expected here. */
function outlookNote(
  ledger: Ledger,
  groups: readonly RecordGroup[],
  crops: readonly Crop[],
): Note | undefined {
  const cultivars = new Set(groups.flatMap((group) => group.cultivars));
  const without = crops.flatMap((crop) => {
    const names = [...cultivars]
      .filter(({ bears }) => !cropOutlook(bears, crop, ledger.trial.pollinator).expected)
      .map((cultivar) => cultivarName(ledger, cultivar));
    return names.length === 0 ? [] : [`no ${cropPhrase(ledger, crop)} of ${listed(names)}`];
  });
  return without.length === 0
    ? undefined
    : shownNote('evidence', `By what they bear, expect ${without.join('; ')}.`);
}
