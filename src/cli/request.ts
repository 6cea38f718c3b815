import { didYouMean } from '../diagnostics/did-you-mean.ts';
import type { Pair } from '../judge/compare/compare-cultivars.ts';
import type { Selection } from '../measure/selection.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import { UnknownColumn } from '../report/named-column.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { UsageError } from './exit.ts';
import type { ReportOptions } from './options.ts';

/**
 * What a command line asks for on a day, held against the ledger. Like all that stands here, it
 * throws a `UsageError` for what the ledger does not have.
 */
export function requestOf(
  ledger: Ledger,
  options: Omit<ReportOptions, 'format'>,
  today: IsoDate,
): ReportRequest {
  return {
    today,
    selection: selectionOf(ledger, options),
    by: options.by ?? [],
    sort: options.sort,
    top: options.top,
    confidence: options.confidence,
    explain: options.explain === true,
  };
}

export function selectionOf(
  ledger: Ledger,
  options: Pick<ReportOptions, 'season' | 'crop' | 'site' | 'cultivar' | 'tree'>,
): Selection {
  const years = ledger.seasons.map((season) => season.year);
  const seasons = [...new Set(options.season.flat())].filter((year) => years.includes(year));
  if (options.season.length > 0 && seasons.length === 0) {
    const has = years.length === 0 ? 'no seasons yet' : `seasons ${years.join(', ')}`;
    throw new UsageError(
      `no entries for --season ${options.season.flat().join(', ')}; the ledger has ${has}`,
    );
  }
  return {
    seasons: seasons.sort((a, b) => a - b),
    crops: eachOf(options.crop).map((word) => cropOf(ledger, word)),
    sites: eachOf(
      options.site,
      [...ledger.trial.sites.values()].map(({ name }) => name),
    ).map((word) => siteOf(ledger, word)),
    cultivars: eachOf(
      options.cultivar,
      [...ledger.cultivars.values()].flatMap(({ name, also }) => [name, ...also]),
    ).map((word) => cultivarOf(ledger, word, '--cultivar')),
    trees: eachOf(options.tree).map((id) => treeOf(ledger, id)),
  };
}

/** Words of an option given several times, or once with commas between; a name may hold a comma. */
function eachOf(typed: readonly string[], names: readonly string[] = []): readonly string[] {
  const whole = new Set(names.map((name) => name.toLowerCase()));
  return typed.flatMap((text) => {
    if (whole.has(text.toLowerCase())) return [text];
    const words = text.split(',').map((word) => word.trim());
    return words.length === 1 ? [text] : words.filter((word) => word !== '');
  });
}

function cropOf(ledger: Ledger, word: string): Crop {
  const { early, main } = ledger.trial.cropNames;
  if (word === 'early' || word === early) return 'early';
  if (word === 'main' || word === main) return 'main';
  const words = [...new Set(['early', 'main', early, main])];
  throw new UsageError(`--crop ${word}: the crops are ${words.join(', ')}${meant(word, words)}`);
}

/** @param option that it was typed behind, if any */
export function cultivarOf(ledger: Ledger, word: string, option?: string): string {
  const all = [...ledger.cultivars.values()];
  return keyOf(
    'cultivar',
    option === undefined ? word : `${option} ${word}`,
    word,
    all.map(({ key, name, also }) => ({ key, names: [name, ...also] })),
  );
}

function siteOf(ledger: Ledger, word: string): string {
  const all = [...ledger.trial.sites.values()].map(({ key, name }) => ({ key, names: [name] }));
  const listed = all.map(({ key, names }) => [...new Set([key, ...names])].join(' or '));
  return keyOf('site', `--site ${word}`, word, all, `; the sites are ${listed.join(', ')}`);
}

/** By key, or by a name as it is written, whatever the case. */
function keyOf(
  what: string,
  typed: string,
  word: string,
  all: readonly { readonly key: string; readonly names: readonly string[] }[],
  hint = '',
): string {
  if (all.some(({ key }) => key === word)) return word;
  const wanted = word.toLowerCase();
  const named = all.filter(({ key, names }) =>
    [key, ...names].some((name) => name.toLowerCase() === wanted),
  );
  const [only, another] = named;
  if (only !== undefined && another === undefined) return only.key;
  if (another !== undefined) {
    const keys = named.map(({ key }) => key).join(', ');
    throw new UsageError(`${word} is the name of several ${what}s; give a key: ${keys}`);
  }
  const words = all.flatMap(({ key, names }) => [key, ...names]);
  throw new UsageError(`${typed}: no such ${what}${meant(word, words) || hint}`);
}

/** Two of them, each by key or name. */
export function pairOf(ledger: Ledger, a: string, b: string): Pair {
  const [first, second] = [a, b].map((word) => ledger.cultivars.get(cultivarOf(ledger, word)));
  if (first === undefined || second === undefined || first === second) {
    throw new UsageError(`${a} and ${b} are the same cultivar; name two`);
  }
  return [first, second];
}

export function traitsOf(ledger: Ledger, traits: readonly string[]): readonly string[] {
  const known = ledger.trial.traits;
  for (const trait of traits) {
    if (known.includes(trait)) continue;
    const hint = meant(trait, known) || `; the traits are ${known.join(', ')}`;
    throw new UsageError(`--trait ${trait}: no such trait${hint}`);
  }
  return traits;
}

/** What `--of` names: something measured or a trait. */
export async function steadyFigureOf(ledger: Ledger, word: string): Promise<string> {
  const { STEADY_PARTS } = await import('../judge/stability/environment-table.ts');
  const known: readonly string[] = [...STEADY_PARTS, ...ledger.trial.traits];
  if (known.includes(word)) return word;
  throw new UsageError(`--of ${word}: it is one of ${known.join(', ')}${meant(word, known)}`);
}

/** The day that was asked for, or the last one with a pick or a sitting. */
export async function askedDay(ledger: Ledger, word: string | undefined): Promise<IsoDate> {
  const { daysOf } = await import('../judge/day.ts');
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

/** Options to hold against home: seasons and cultivars are those of all gardens, and sites and trees of none. */
export function ofHomeAlone<Options extends object>(options: Options): Options {
  return { ...options, season: [], cultivar: [], site: [], tree: [] };
}

/** What is thrown on: a column that nobody knows is a slip in what was asked. */
export function asUsageError(thrown: unknown): unknown {
  if (!(thrown instanceof UnknownColumn)) return thrown;
  const names = thrown.known.flatMap(({ key, label }) => [label, key]);
  const nearest = didYouMean(thrown.column, names);
  return new UsageError(
    nearest === undefined
      ? thrown.message
      : `there is no column "${thrown.column}"; did you mean ${nearest}?`,
  );
}

function treeOf({ trees }: Ledger, id: string): string {
  if (trees.has(id)) return id;
  throw new UsageError(`--tree ${id}: no such tree${meant(id, trees.keys())}`);
}

function meant(word: string, names: Iterable<string>): string {
  const nearest = didYouMean(word, names);
  return nearest === undefined ? '' : `; did you mean ${nearest}?`;
}
