import { type CropWords, tasteWords } from '../measure/taste-words.ts';
import type { Ripeness } from '../model/entries.ts';
import type { Ledger } from '../model/ledger.ts';
import { countColumn, shareColumn, textColumn } from './columns.ts';
import { cropWordsNote, doubtNote, note, notesInOrder } from './common-notes.ts';
import { withCropWords } from './crop-words.ts';
import { cultivarName } from './names.ts';
import { orderBlocks } from './order-blocks.ts';
import { type ReportRequest, selectionWords } from './report-request.ts';
import { forPeople } from './row-columns.ts';
import type { Column, Report, Row } from './table.ts';
import { nothingTastedNote, ripenessWords, selectedWords } from './tasted-notes.ts';

/** What tasters say each cultivar tastes of, the word that is said most often first. */
export function wordsReport(
  ledger: Ledger,
  request: ReportRequest,
  ripeness: readonly Ripeness[],
): Report {
  const all = tasteWords(ledger, { ...request.selection, ripeness });
  const blocks = all.map((one) => rowsOf(ledger, one));
  const { rows, cut } = orderBlocks(COLUMNS, blocks, 'cultivar and crop', request);
  const where = selectedWords(
    ledger,
    request.selection,
    all.flatMap(({ seasons }) => seasons),
  );
  const tastings = all.reduce((sum, one) => sum + one.tastings, 0);
  return {
    report: 'words',
    title: `Words by cultivar${where === '' ? '' : `, ${where}`}`,
    ledgerTitle: ledger.trial.title,
    selection: { ...selectionWords(request, ['cultivar']), ripeness },
    columns: withCropWords(ledger, request.selection, forPeople(COLUMNS, rows, ['cultivar'])),
    rows,
    notes:
      rows.length === 0
        ? [nothingTastedNote(ledger, 'words of what fruit tastes of')]
        : notesInOrder([
            cropWordsNote(ledger),
            note(
              'method',
              `Share: of the tastings (one taster before one plate) that have words. There are ${tastings} in this table, of fruit tasted ${ripenessWords(ripeness)}.`,
            ),
            cut === undefined ? undefined : note('evidence', cut),
            doubtNote(
              ledger,
              all.map(({ cultivar }) => cultivar),
            ),
          ]),
  };
}

const COLUMNS: readonly Column[] = [
  textColumn('cultivar', { label: 'Cultivar', drop: 0 }),
  textColumn('crop', { label: 'Crop', drop: 0 }),
  textColumn('word', { label: 'Word', drop: 0 }),
  countColumn('times', { label: 'Times', drop: 0 }),
  countColumn('tasters', { label: 'Tasters', drop: 2 }),
  countColumn('sittings', { label: 'Sittings', drop: 3 }),
  shareColumn('share', 0, { label: 'Share', drop: 1 }),
];

function rowsOf(ledger: Ledger, { cultivar, crop, words }: CropWords): Row[] {
  const name = cultivarName(ledger, cultivar);
  return words.map((figures) => ({ cultivar: name, crop, ...figures }));
}
