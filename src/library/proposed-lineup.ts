import { UsageError } from '../cli/exit.ts';
import { lineupRequestOf } from '../cli/lineup-request.ts';
import type { Ledger } from '../model/ledger.ts';
import type { Document } from '../report/document.ts';
import { lineupDocument } from '../report/lineup/lineup-document.ts';
import { lineupSheet } from '../report/lineup/lineup-sheet.ts';
import type { AskedLineup } from './asked.ts';
import { checkWords, dayOf, several, wholeFrom1 } from './request-for.ts';

/** The sheets that the command would print. */
export function proposedLineup(ledger: Ledger, asked: AskedLineup): Document {
  checkWords(asked);
  const { on, today, samples = 5, tasters, candidates, crop, for: aim, seed, explain } = asked;
  if (aim !== undefined && aim !== 'order' && aim !== 'verdict') {
    throw new UsageError(`for ${String(aim)}: a sitting is for order or verdict`);
  }
  const request = lineupRequestOf(
    ledger,
    {
      samples: wholeFrom1('samples', samples),
      ...(tasters === undefined ? {} : { tasters: several(tasters).join(',') }),
      ...(candidates === undefined ? {} : { candidates: several(candidates).join(',') }),
      ...(crop === undefined ? {} : { crop }),
      ...(aim === undefined ? {} : { for: aim }),
      ...(seed === undefined ? {} : { seed }),
    },
    dayOf(on ?? today),
  );
  return lineupDocument(lineupSheet(ledger, request, explain));
}
