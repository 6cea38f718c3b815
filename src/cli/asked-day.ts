import { daysOf } from '../judge/day.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import { UsageError } from './exit.ts';

/**
 * The day that was asked for, or the last one with a pick or a sitting. Throws a `UsageError` where
 * it is no date or nothing was picked or tasted on it.
 */
export function askedDay(ledger: Ledger, word: string | undefined): IsoDate {
  const days = daysOf(ledger);
  const last = days.at(-1);
  if (last === undefined) throw new UsageError('nothing was picked or tasted yet');
  if (word === undefined) return last;
  const day = parseIsoDate(word);
  if (day === undefined) throw new UsageError(`${word}: write the day as YYYY-MM-DD, as ${last}`);
  if (days.includes(day)) return day;
  const around = [days.findLast((one) => one < day), days.find((one) => one > day)];
  const nearest = around.filter((one) => one !== undefined).join(' and ');
  throw new UsageError(
    `nothing was picked or tasted on ${day}; the nearest ${around.includes(undefined) ? 'day is' : 'days are'} ${nearest}`,
  );
}
