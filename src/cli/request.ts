import { didYouMean } from '../diagnostics/did-you-mean.ts';
import type { Selection } from '../measure/selection.ts';
import { parseIsoDate } from '../model/dates.ts';
import type { Crop, Ledger } from '../model/ledger.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { UsageError } from './exit.ts';
import type { ReportOptions } from './options.ts';

/**
 * What a command line asks for on a day, held against the ledger. Throws a `UsageError` for
 * anything that the ledger does not have.
 *
 * @param today YYYY-MM-DD
 */
export function requestOf(
  ledger: Ledger,
  options: Omit<ReportOptions, 'format'>,
  today: string,
): ReportRequest {
  return {
    today: parseIsoDate(today),
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
    crops: options.crop.map((word) => cropOf(ledger, word)),
    sites: options.site.map((key) => known('site', key, ledger.trial.sites)),
    cultivars: options.cultivar.map((word) => cultivarOf(ledger, word)),
    trees: options.tree.map((id) => known('tree', id, ledger.trees)),
  };
}

function cropOf(ledger: Ledger, word: string): Crop {
  const { early, main } = ledger.trial.cropNames;
  if (word === 'early' || word === early) return 'early';
  if (word === 'main' || word === main) return 'main';
  const words = [...new Set(['early', 'main', early, main])];
  throw new UsageError(`--crop ${word}: the crops are ${words.join(', ')}`);
}

/** By key, or by name as it is written, whatever the case. */
export function cultivarOf(ledger: Ledger, word: string): string {
  if (ledger.cultivars.has(word)) return word;
  const wanted = word.toLowerCase();
  const named = [...ledger.cultivars.values()].filter((one) =>
    [one.key, one.name, ...one.also].some((name) => name.toLowerCase() === wanted),
  );
  const [only, another] = named;
  if (only !== undefined && another === undefined) return only.key;
  if (another !== undefined) {
    const keys = named.map((one) => one.key).join(', ');
    throw new UsageError(`${word} is the name of several cultivars; give a key: ${keys}`);
  }
  const names = [...ledger.cultivars.values()].flatMap((one) => [one.key, one.name, ...one.also]);
  throw new UsageError(`--cultivar ${word}: no such cultivar${meant(word, names)}`);
}

function known(what: string, key: string, listed: ReadonlyMap<string, unknown>): string {
  if (listed.has(key)) return key;
  throw new UsageError(`--${what} ${key}: no such ${what}${meant(key, listed.keys())}`);
}

function meant(word: string, names: Iterable<string>): string {
  const nearest = didYouMean(word, names);
  return nearest === undefined ? '' : `; did you mean ${nearest}?`;
}
