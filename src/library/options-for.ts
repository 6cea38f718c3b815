import { type AddCommand, askedOptions } from '../cli/asked-options.ts';
import { UsageError } from '../cli/exit.ts';
import { nodeHost } from '../host/node-host.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';

/** Options that say in which form a page is wanted, and where: a program gets what stands on it. */
export const OF_PAGES = ['format', 'ground', 'output', 'sheet'];

/**
 * What a command would make of the words. Throws a `UsageError` for what it would refuse.
 *
 * @param elsewhere options that are not asked here
 */
export function optionsFor<Options extends object>(
  add: AddCommand,
  words: object,
  elsewhere: readonly string[] = OF_PAGES,
): Options {
  return askedOptions(nodeHost(), add, words, elsewhere);
}

/** The day that was asked for, else that of the clock. */
export function todayOf(today: string | undefined): IsoDate {
  const day = today === undefined ? nodeHost().today() : parseIsoDate(today);
  if (day === undefined) throw new UsageError(`today ${today}: write a date as YYYY-MM-DD.`);
  return day;
}
