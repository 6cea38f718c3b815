import type { CropRecord } from '../measure/crop-record.ts';
import { cropsSoFar, recordsUnderWay, type SoFar } from '../measure/under-way.ts';
import { CROPS, type Ledger } from '../model/ledger.ts';
import { shown } from './common-notes.ts';
import type { ReportRequest } from './report-request.ts';
import type { Note } from './table.ts';

/** "1 of 21"; "1" where nobody counted. */
export function soFarWords({ picked, of }: SoFar): string {
  return of === undefined ? String(picked) : `${picked} of ${of}`;
}

/**
 * What is not over, so that nobody takes its figures for those of a whole season: "2026 is not over:
 * breba 1 of 21 fruit picked so far."; undefined where all is over.
 */
export function soFarSentence(
  ledger: Ledger,
  { today }: Pick<ReportRequest, 'today'>,
  records: readonly CropRecord[],
): string | undefined {
  const crops = cropsSoFar(records, recordsUnderWay(ledger, today));
  const words = CROPS.flatMap((crop) => {
    const far = crops.get(crop);
    if (far === undefined) return [];
    const what =
      far.picked === 0
        ? `${far.of} fruit counted, none picked yet`
        : `${soFarWords(far)} fruit picked so far`;
    return [`${ledger.trial.cropNames[crop]} ${what}`];
  });
  if (words.length === 0) return undefined;
  return `${ledger.seasons.at(-1)?.year} is not over: ${words.join('; ')}.`;
}

/** The same as a note. */
export function soFarNote(
  ledger: Ledger,
  request: Pick<ReportRequest, 'today'>,
  records: readonly CropRecord[],
): Note | undefined {
  const text = soFarSentence(ledger, request, records);
  return text === undefined ? undefined : shown('evidence', text);
}
