import { type Comparison, type Pair, pairComparer } from '../../judge/compare/compare-cultivars.ts';
import { evidenceOf } from '../../judge/index/evidence.ts';
import { gatherTrial } from '../../judge/index/gather-trial.ts';
import type { Ripeness } from '../../model/entries.ts';
import { CROPS, type Crop, type Ledger } from '../../model/ledger.ts';
import { selectedParts } from '../assemble-report.ts';
import { cell, intervalColumns, numberColumn, textColumn } from '../columns.ts';
import { cropWordsNote, doubtNote, note, notesInOrder, shownNote } from '../common-notes.ts';
import { cropPhrase, withCropWords } from '../crop-words.ts';
import { meanDayWords } from '../day-words.ts';
import { cultivarName } from '../names.ts';
import { type ReportRequest, selectionWords } from '../report-request.ts';
import type { Column, Report, Row } from '../table.ts';
import { ripenessWords } from '../tasted/tasted-notes.ts';
import {
  aheadInWords,
  comparedWords,
  compareMethodNotes,
  edgeNote,
  unlikePlaceNotes,
} from './compare-notes.ts';
import { bandNotes, youngNote } from './model-notes.ts';

/** What is asked of a comparison besides what every report knows. */
export interface CompareAsked {
  readonly pair: Pair;
  readonly ripeness: readonly Ripeness[];
}

/** Two cultivars part by part, with what can be said of each difference. */
export function compareReport(ledger: Ledger, request: ReportRequest, asked: CompareAsked): Report {
  const { pair } = asked;
  const names = namesOf(ledger, pair);
  const selection = { ...request.selection, ripeness: asked.ripeness };
  const crops = CROPS.filter(
    (crop) => !request.selection.crops?.length || request.selection.crops.includes(crop),
  )
    .map((crop) => ({
      crop,
      parts: pairComparer(ledger, selection, { ...request, crop })(pair),
    }))
    .filter(({ parts }) => parts.some(({ difference }) => difference !== undefined));
  const rows = crops.flatMap(({ crop, parts }) =>
    parts.map((one) => partRow(ledger, names, crop, one)),
  );
  const columns = withCropWords(
    ledger,
    {},
    compareColumns(ledger, names, request.confidence, crops.length > 1),
    rows,
  );
  return {
    report: 'compare',
    title: [names.join(' against '), ...selectedParts(ledger, request, [], rows)].join(', '),
    ledgerTitle: ledger.trial.title,
    selection: {
      ...selectionWords(request, []),
      a: pair[0].key,
      b: pair[1].key,
      ripeness: asked.ripeness,
    },
    columns,
    rows,
    // What is not recorded for both is told in a note.
    screen: { columns, rows: rows.filter(({ difference }) => difference !== null) },
    notes:
      rows.length === 0
        ? [
            shownNote(
              'evidence',
              `There is no part in which both ${names.join(' and ')} have figures of the same crop in this selection.`,
            ),
          ]
        : [
            ...crops.map(({ crop, parts }) =>
              shownNote(
                'evidence',
                comparedWords(
                  names,
                  crops.length > 1 ? cropPhrase(ledger, crop) : undefined,
                  parts,
                ),
                aheadInWords(names, crops.length > 1 ? cropPhrase(ledger, crop) : undefined, parts),
              ),
            ),
            ...notesInOrder([
              cropWordsNote(ledger),
              ...compareMethodNotes(request),
              note('evidence', `Tasted: ${ripenessWords(asked.ripeness)} fruit only.`),
              ...crops.map(({ crop, parts }) => edgeNote(crop, parts)),
              ...crops.flatMap(({ crop }) => unlikePlaceNotes(ledger, selection, crop, pair)),
              youngNote(
                ledger,
                crops.flatMap(({ crop }) => candidates(ledger, request, crop, pair)),
              ),
              ...bandNotes(ledger, request.selection),
              doubtNote(ledger, pair),
            ]),
          ],
  };
}

/** What was seen of the two. */
function candidates(ledger: Ledger, { selection }: ReportRequest, crop: Crop, pair: Pair) {
  const trial = gatherTrial(ledger, selection, crop);
  return evidenceOf(trial).flatMap((evidence, item) => {
    const cultivar = trial.cultivars[item];
    return cultivar !== undefined && pair.includes(cultivar) ? [{ cultivar, ...evidence }] : [];
  });
}

function namesOf(ledger: Ledger, [a, b]: Pair): readonly [string, string] {
  return [cultivarName(ledger, a), cultivarName(ledger, b)];
}

function compareColumns(
  ledger: Ledger,
  [a, b]: readonly [string, string],
  confidence: number,
  hasBothCrops: boolean,
): Column[] {
  const crop = textColumn('crop', { label: 'Crop', drop: 0 });
  const number = (key: string, label: string, drop: number): Column => ({
    ...numberColumn(key, 1, { label, drop }),
    digitsBy: { key: 'unit', digits: DIGITS },
  });
  const difference = number('difference', 'Difference', 0);
  return [
    { ...textColumn('part', { label: 'Part', drop: 0 }), words: partWords(ledger) },
    hasBothCrops ? crop : { ...crop, machineOnly: true },
    // People read it behind the part.
    { ...textColumn('unit', { label: 'Unit', drop: 3 }), machineOnly: true },
    number('a', a, 2),
    number('b', b, 2),
    difference,
    ...intervalColumns(difference, ['low', 'high'], confidence, 1),
    { ...textColumn('verdict', { label: 'Ahead', drop: 0 }), words: TOLD },
  ];
}

const UNITS: Readonly<Record<Comparison['part']['kind'], string>> = {
  trait: 'points',
  productivity: 'fruit/branch',
  size: 'g',
  soundness: '%',
  ripening: 'days',
  preference: '%',
  index: 'points',
};

/** Nobody ahead, as programs read it and as people do. */
const OPEN = 'not separable';
const TOLD = { [OPEN]: 'too close' };

/** "size (g)": a part as people read it, with its unit; points go without. */
function partWords({ trial: { traits } }: Ledger): Readonly<Record<string, string>> {
  const worded = Object.entries(UNITS)
    .filter(([kind, unit]) => unit !== 'points' && !traits.includes(kind))
    .map(([kind, unit]) => [kind, kind === 'productivity' ? unit : `${kind} (${unit})`]);
  return Object.fromEntries(worded);
}

/** As many decimals as the simulation bears; one in rows of other units. */
const DIGITS: Readonly<Record<string, number>> = { g: 0, '%': 0 };

function partRow(
  ledger: Ledger,
  names: readonly [string, string],
  crop: Crop,
  one: Comparison,
): Row {
  const { part } = one;
  const times = UNITS[part.kind] === '%' ? 100 : 1;
  const figure = (value: number | undefined) => cell(value === undefined ? value : times * value);
  const isDay = part.kind === 'ripening';
  return {
    part: part.kind === 'trait' ? part.trait : part.kind,
    crop,
    unit: UNITS[part.kind],
    a: isDay
      ? cell(
          meanDayWords(
            ledger,
            one.days.map(({ season, a }) => [season, a]),
          ),
        )
      : figure(one.a),
    b: isDay
      ? cell(
          meanDayWords(
            ledger,
            one.days.map(({ season, b }) => [season, b]),
          ),
        )
      : figure(one.b),
    difference: figure(one.difference),
    low: figure(one.low),
    high: figure(one.high),
    verdict: verdictWords(names, one),
  };
}

function verdictWords([a, b]: readonly [string, string], one: Comparison): string | null {
  if (one.difference === undefined) return null;
  if (one.why !== undefined) return 'no interval';
  if (one.ahead === undefined) return OPEN;
  return one.ahead === 'a' ? a : b;
}
