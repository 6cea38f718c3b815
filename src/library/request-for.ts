import { UsageError } from '../cli/exit.ts';
import { parseSeasons, type ReportOptions } from '../cli/options.ts';
import { requestOf } from '../cli/request.ts';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { nodeHost } from '../host/node-host.ts';
import { BYS } from '../measure/group-records.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';
import type { Ledger } from '../model/ledger.ts';
import type { ReportRequest } from '../report/report-request.ts';
import type { Asked, AskedRows, Some } from './asked.ts';

/** The options that a command line with the same words would have. */
function optionsOf(asked: AskedRows & { readonly explain?: boolean }): ReportOptions {
  checkWords(asked);
  const { sort, top, confidence = 95 } = asked;
  const by = several(asked.by);
  const unknown = by.find((one) => !BYS.includes(one));
  if (unknown !== undefined) throw new UsageError(`by ${unknown}: rows are ${BYS.join(', ')}`);
  return {
    season: several(asked.season).map(yearsOf),
    crop: several(asked.crop),
    site: several(asked.site),
    cultivar: several(asked.cultivar),
    tree: several(asked.tree),
    by,
    ...(sort === undefined ? {} : { sort }),
    ...(top === undefined ? {} : { top: wholeFrom1('top', top) }),
    confidence: fractionOf(confidence),
    explain: asked.explain === true,
    format: 'json',
  };
}

/** A year, or a span as the command line has it. */
export function yearsOf(season: number | string): readonly number[] {
  try {
    return parseSeasons(String(season));
  } catch {
    throw new UsageError(`season ${season}: a year, as 2026, or a span, as '2024..2026'`);
  }
}

/** A word that nobody knows would otherwise ask for everything, and look like an answer. */
export function checkWords(asked: object): void {
  const unknown = Object.keys(asked).find((word) => !WORDS.includes(word));
  if (unknown === undefined) return;
  const nearest = didYouMean(unknown, WORDS);
  const hint = nearest === undefined ? '' : `; did you mean ${nearest}?`;
  throw new UsageError(`${unknown}: no such option${hint}`);
}

/** The options of every report. */
const WORDS = (
  'season crop site cultivar tree sort top confidence today by ripeness explain trait unit spread from prior seed ' +
  'after within rainFrom notes against of names title date tags full nameTasters figuresUrl ' +
  'climate cover parts samples tasters for candidates on'
).split(' ');

/** What the options ask for, held against the ledger. */
export function requestFor(
  ledger: Ledger,
  asked: AskedRows & { readonly explain?: boolean },
): ReportRequest {
  return requestOf(ledger, optionsOf(asked), dayOf(asked.today));
}

/** What is left where a row is a cultivar, or a cultivar under a cover, once it is known to be either. */
export function withoutBy({
  by = 'cultivar',
  ...asked
}: Asked & { readonly by?: 'cultivar' | 'cover' }): Asked {
  if (by === 'cultivar' || by === 'cover') return asked;
  throw new UsageError(`by ${String(by)}: rows are cultivar, cover`);
}

/** The day that was asked for, else that of the clock. */
export function dayOf(today: string | undefined): IsoDate {
  const day = today === undefined ? nodeHost().today() : parseIsoDate(today);
  if (day === undefined) throw new UsageError(`today ${today}: a day as YYYY-MM-DD`);
  return day;
}

export function several<Value>(some: Some<Value> | undefined): readonly Value[] {
  if (some === undefined) return [];
  return isList(some) ? some : [some];
}

function isList<Value>(some: Some<Value>): some is readonly Value[] {
  return Array.isArray(some);
}

export function wholeFrom1(what: string, value: number): number {
  if (Number.isSafeInteger(value) && value >= 1) return value;
  throw new UsageError(`${what} ${value}: a whole number from 1`);
}

export function fractionOf(percent: number): number {
  if (percent >= 50 && percent <= 99.9) return percent / 100;
  throw new UsageError(`confidence ${percent}: a percentage from 50 to 99.9`);
}

/** Runs what shares its words with the command line, whose options begin with two hyphens. */
export async function inPlainWords<Result>(run: () => Promise<Result>): Promise<Result> {
  try {
    return await run();
  } catch (thrown) {
    if (!(thrown instanceof UsageError)) throw thrown;
    throw new UsageError(thrown.message.replace(/(^|\s)--(?=[a-z])/g, '$1'));
  }
}
