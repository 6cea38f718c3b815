import { type CropWords, tasteWords } from '../../measure/taste-words.ts';
import type { Ripeness } from '../../model/entries.ts';
import type { Ledger } from '../../model/ledger.ts';
import { selectedParts } from '../assemble-report.ts';
import { countColumn, shareColumn, textColumn } from '../columns.ts';
import { cropWordsNote, doubtNote, notesInOrder, shownNote } from '../common-notes.ts';
import { withCropWords } from '../crop-words.ts';
import { cultivarName } from '../names.ts';
import { type ReportRequest, selectionWords } from '../report-request.ts';
import { forPeople, rowColumn } from '../row-columns.ts';
import { orderBlocks } from '../row-order.ts';
import type { Column, Report, Row } from '../table.ts';
import { nothingTastedNote, ripenessWords } from './tasted-notes.ts';

/** What tasters say each cultivar tastes of, the word that is said most often first. */
export function wordsReport(
  ledger: Ledger,
  request: ReportRequest,
  ripeness: readonly Ripeness[],
): Report {
  const all = tasteWords(ledger, { ...request.selection, ripeness });
  const blocks = all.map((one) => rowsOf(ledger, one));
  const { rows, cut } = orderBlocks(COLUMNS, blocks, 'cultivar and crop', request);
  const where = selectedParts(
    ledger,
    request,
    all.flatMap(({ seasons }) => seasons),
    rows,
  );
  const tastings = all.reduce((sum, one) => sum + one.tastings, 0);
  return {
    report: 'words',
    title: ['Words of taste', ...where].join(', '),
    ledgerTitle: ledger.trial.title,
    selection: { ...selectionWords(request, ['cultivar']), ripeness },
    columns: withCropWords(ledger, request.selection, forPeople(COLUMNS, rows, ['cultivar']), rows),
    rows,
    ...(request.sort === undefined && request.top === undefined && rows.length > 0
      ? { screen: screenOf(ledger, request, all) }
      : {}),
    notes:
      rows.length === 0
        ? [nothingTastedNote(ledger, 'words of what fruit tastes of')]
        : notesInOrder([
            cropWordsNote(ledger),
            shownNote(
              'method',
              `Share: of the tastings (one taster before one plate) that have words. There are ${tastings} in this table, of fruit tasted ${ripenessWords(ripeness)}.`,
              `Behind a word: in how many tastings (one taster, one plate) it was said.`,
            ),
            cut === undefined ? undefined : shownNote('evidence', cut),
            doubtNote(
              ledger,
              all.map(({ cultivar }) => cultivar),
            ),
          ]),
  };
}

const COLUMNS: readonly Column[] = [
  rowColumn('cultivar', ['cultivar']),
  textColumn('crop', { label: 'Crop', drop: 0 }),
  textColumn('word', { label: 'Word', drop: 0 }),
  countColumn('times', { label: 'Times', drop: 0 }),
  countColumn('tasters', { label: 'Tasters', drop: 2 }),
  countColumn('sittings', { label: 'Sittings', drop: 3 }),
  shareColumn('share', 0, { label: 'Share', drop: 1 }),
];

/** A row a cultivar and crop, its words behind each other. */
function screenOf(
  ledger: Ledger,
  { selection }: ReportRequest,
  all: readonly CropWords[],
): Pick<Report, 'columns' | 'rows'> {
  const rows = all.map(
    ({ cultivar, crop, words, tastings }): Row => ({
      cultivar: cultivarName(ledger, cultivar),
      crop,
      words: words.map(({ word, times }) => `${word} ${times}`).join(', '),
      tastings,
    }),
  );
  const columns = [
    rowColumn('cultivar', ['cultivar']),
    textColumn('crop', { label: 'Crop', drop: 0 }),
    textColumn('words', { label: 'Tastes of', drop: 0 }),
    countColumn('tastings', { label: 'Tastings', drop: 1 }),
  ];
  return { columns: withCropWords(ledger, selection, columns, rows), rows };
}

function rowsOf(ledger: Ledger, { cultivar, crop, words }: CropWords): Row[] {
  const name = cultivarName(ledger, cultivar);
  return words.map((figures) => ({ cultivar: name, crop, ...figures }));
}
