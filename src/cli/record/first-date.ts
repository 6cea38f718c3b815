import type { IsoDate } from '../../model/dates.ts';
import { readDate } from '../../writing/shorthand/typed-date.ts';
import { UsageError } from '../exit.ts';
import type { Desk } from './desk.ts';

/** The date that `--on` gives. Throws a `UsageError` for anything that is not one date. */
export function firstDate(text: string, { today, ledger }: Desk): IsoDate {
  const words = text.trim().split(/\s+/);
  const found = readDate(words, today, ledger.trial.dates);
  if (found.kind === 'unclear') {
    throw new UsageError(`--on ${text} may be ${found.readings.join(' or ')}; write one of them`);
  }
  if (found.kind === 'date' && found.used === words.length) return found.date;
  throw new UsageError(`--on ${text} is no date; write 2026-07-24, "24 Jul" or yesterday`);
}
