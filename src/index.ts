/**
 * The library face of pomary, for programs that make pages or tables of their own: open a ledger,
 * then ask for reports. Each report is the very object that the command of the same name prints
 * with `--format json`, and takes the same words; `today`, the day that tells a season under way, is
 * that of the clock on the command line.
 *
 * Every function rejects with a `UsageError` for what the ledger does not have or a report does not
 * know; `openLedger` also with a `FileFault` for files that cannot be read.
 */

import type { SeasonsAsked } from './cli/changes-page.ts';
import {
  COMPARE,
  CROPS_SIDE_BY_SIDE,
  PREFERENCE,
  RANK,
  RIPENING,
  SCORES,
  SOUNDNESS,
  STABILITY,
  VERDICT,
  WEIGHTS,
  WORDS,
  YIELD,
} from './cli/reports.ts';
import type { TableName } from './cli/table-names.ts';
import type {
  Asked,
  AskedCard,
  AskedChanges,
  AskedCompare,
  AskedDay,
  AskedFigure,
  AskedLineup,
  AskedPool,
  AskedPreference,
  AskedRank,
  AskedRows,
  AskedScores,
  AskedSheet,
  AskedSoundness,
  AskedSpread,
  AskedStability,
  AskedTasted,
  DrawnKind,
} from './library/asked.ts';
import type { AskedPost, PublishedPost } from './library/asked-post.ts';
import type { ExportedTable } from './library/exported-table.ts';
import { OF_PAGES, optionsFor, todayOf } from './library/options-for.ts';
import { inPlainWords } from './library/plain-words.ts';
import type { Reported, ReportedPage } from './library/report-types.ts';
import { askedReport, reported, reportedPage } from './library/reported.ts';
import type {
  CompareRow,
  CropsRow,
  PoolNamesRow,
  PoolRow,
  PreferenceRow,
  RankRow,
  RipeningRow,
  ScoresRow,
  SoundnessRow,
  SplitsRow,
  StabilityRow,
  VerdictRow,
  WeightsRow,
  WordsRow,
  YieldRow,
} from './library/row-types.ts';
import type { Ledger } from './model/ledger.ts';

export { UsageError } from './cli/exit.ts';
export { FileFault } from './cli/host.ts';
export type * from './library/asked.ts';
export type { AskedPost, PublishedPost } from './library/asked-post.ts';
export type { ExportedTable } from './library/exported-table.ts';
export { type OpenedLedger, openLedger, type Problem } from './library/open-ledger.ts';
export type * from './library/report-types.ts';
export type {
  CompareRow,
  CropsRow,
  PoolNamesRow,
  PoolRow,
  PreferenceRow,
  RankRow,
  ReportRow,
  RipeningRow,
  ScoresRow,
  SoundnessRow,
  SplitsRow,
  StabilityRow,
  VerdictRow,
  WeightsRow,
  WordsRow,
  YieldRow,
} from './library/row-types.ts';
export type { Cultivar, Tree } from './model/collection.ts';
export type { Cover, Crop, Ledger, Season, Site, Trial } from './model/ledger.ts';
export type { Cell, Note } from './report/table.ts';

/** Load, fruit per branch, picked fruit and weight: `pomary yield` (a word that JavaScript keeps). */
export function yields(ledger: Ledger, asked: AskedSpread = {}): Promise<Reported<YieldRow>> {
  return askedReport(YIELD, ledger, asked);
}

/** Fruit weights and their spread: `pomary weights`. */
export function weights(ledger: Ledger, asked: AskedSpread = {}): Promise<Reported<WeightsRow>> {
  return askedReport(WEIGHTS, ledger, asked);
}

/** Early and main crop side by side: `pomary crops`. */
export function crops(ledger: Ledger, asked: AskedRows = {}): Promise<Reported<CropsRow>> {
  return askedReport(CROPS_SIDE_BY_SIDE, ledger, asked);
}

/**
 * Share of sound fruit, and what spoiled the rest: `pomary soundness`. With `after`, splits of fruit
 * picked soon after it, against the rest.
 */
export function soundness(
  ledger: Ledger,
  asked: AskedSoundness & { readonly after: 'rain' | 'water' },
): Promise<Reported<SplitsRow>>;
export function soundness(
  ledger: Ledger,
  asked?: AskedSoundness & { readonly after?: never },
): Promise<Reported<SoundnessRow>>;
export function soundness(
  ledger: Ledger,
  asked?: AskedSoundness,
): Promise<Reported<SoundnessRow | SplitsRow>>;
export function soundness(
  ledger: Ledger,
  asked: AskedSoundness = {},
): Promise<Reported<SoundnessRow | SplitsRow>> {
  return askedReport(SOUNDNESS, ledger, asked);
}

/** The calendar of picks: `pomary ripening`. */
export function ripening(ledger: Ledger, asked: AskedRows = {}): Promise<Reported<RipeningRow>> {
  return askedReport(RIPENING, ledger, asked);
}

/** Mean scores with taster and sitting allowed for: `pomary scores`. */
export function scores(ledger: Ledger, asked: AskedScores = {}): Promise<Reported<ScoresRow>> {
  return askedReport(SCORES, ledger, asked);
}

/** What tasters' best-first orders add up to: `pomary preference`. */
export function preference(
  ledger: Ledger,
  asked: AskedPreference = {},
): Promise<Reported<PreferenceRow>> {
  return askedReport(PREFERENCE, ledger, asked);
}

/** What tasters say each cultivar tastes of, and how often: `pomary words`. */
export function words(ledger: Ledger, asked: AskedTasted = {}): Promise<Reported<WordsRow>> {
  return askedReport(WORDS, ledger, asked);
}

/** Two cultivars part by part, each by key or name: `pomary compare`. */
export function compare(
  ledger: Ledger,
  a: string,
  b: string,
  asked: AskedCompare = {},
): Promise<Reported<CompareRow>> {
  return askedReport(COMPARE, ledger, asked, [a, b]);
}

/** Cultivars by the weighted index, crops apart: `pomary rank`. */
export function rank(ledger: Ledger, asked: AskedRank = {}): Promise<Reported<RankRow>> {
  return askedReport(RANK, ledger, asked);
}

/** Increase, retain, watch or discard: `pomary verdict`. */
export function verdict(ledger: Ledger, asked: AskedRank = {}): Promise<Reported<VerdictRow>> {
  return askedReport(VERDICT, ledger, asked);
}

/** How steady cultivars are over seasons and sites: `pomary stability`. */
export function stability(
  ledger: Ledger,
  asked: AskedStability = {},
): Promise<Reported<StabilityRow>> {
  return askedReport(STABILITY, ledger, asked);
}

/**
 * What to expect in gardens like these: `pomary pool`. With `names`, what was taken for the same
 * cultivar instead, and why.
 *
 * @param others ledgers of other gardens, opened as home was
 */
export function pool(
  home: Ledger,
  others: readonly Ledger[],
  asked: AskedPool & { readonly names: true },
): Promise<Reported<PoolNamesRow>>;
export function pool(
  home: Ledger,
  others: readonly Ledger[],
  asked?: AskedPool & { readonly names?: false },
): Promise<Reported<PoolRow>>;
export function pool(
  home: Ledger,
  others: readonly Ledger[],
  asked?: AskedPool,
): Promise<Reported<PoolRow | PoolNamesRow>>;
export function pool(
  home: Ledger,
  others: readonly Ledger[],
  asked: AskedPool = {},
): Promise<Reported<PoolRow | PoolNamesRow>> {
  return reported(async () => {
    const { pooledReport } = await import('./library/pooled-report.ts');
    return pooledReport(home, others, asked);
  });
}

/**
 * Observations as a table, a row each: `pomary export --table picks`. The table `columns` tells what
 * the columns of all tables hold.
 */
export function table(
  ledger: Ledger,
  name: TableName,
  asked: Pick<Asked, 'today'> = {},
): Promise<ExportedTable> {
  return inPlainWords(async () => {
    const { exportedTable } = await import('./library/exported-table.ts');
    return exportedTable(ledger, name, asked);
  });
}

/** A sheet to print, carry out and fill in: each tree with what is due: `pomary sheet`. */
export function sheet(ledger: Ledger, { today, ...words }: AskedSheet = {}): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { addSheetCommand, sheetPage } = await import('./cli/commands/sheet.ts');
    return sheetPage(ledger, optionsFor(addSheetCommand, words), todayOf(today));
  });
}

/** What to taste next, with blind codes and serving orders: `pomary lineup`. */
export function lineup(
  ledger: Ledger,
  { today, ...words }: AskedLineup = {},
): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { addLineupCommand, lineupPage } = await import('./cli/commands/lineup.ts');
    return lineupPage(ledger, optionsFor(addLineupCommand, words), todayOf(today));
  });
}

/** All that is known of one cultivar: `pomary card`. */
export function card(
  ledger: Ledger,
  cultivar: string,
  { today, full = true, ...words }: AskedCard = {},
): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { addCardCommand, cardPage } = await import('./cli/commands/card.ts');
    return cardPage(
      ledger,
      cultivar,
      optionsFor(addCardCommand, { full, ...words }),
      todayOf(today),
    );
  });
}

/**
 * What was picked and tasted on a day, YYYY-MM-DD, or on the last one with a pick or a sitting:
 * `pomary day`.
 */
export function day(ledger: Ledger, on?: string, asked: AskedDay = {}): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { addDayCommand, dayPage } = await import('./cli/commands/day.ts');
    return dayPage(ledger, on, optionsFor(addDayCommand, asked));
  });
}

/** What is different between two seasons: `pomary changes`. */
export function changes(
  ledger: Ledger,
  { today, ...words }: AskedChanges = {},
): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { addChangesCommand } = await import('./cli/commands/changes.ts');
    const { changesOfSeasons } = await import('./cli/changes-page.ts');
    const options = optionsFor<SeasonsAsked>(addChangesCommand, words, [...OF_PAGES, ...OF_GIT]);
    return changesOfSeasons(ledger, { ...options, today: todayOf(today) });
  });
}

/** A ledger that is open is that of today. */
const OF_GIT = ['since', 'until'];

/** An article on what is worth planting: `pomary post`. */
export function post(ledger: Ledger, asked: AskedPost = {}): Promise<PublishedPost> {
  return inPlainWords(async () => {
    const { publishedPost } = await import('./library/published-post.ts');
    return publishedPost(ledger, asked);
  });
}

/**
 * A figure as SVG: `pomary figure`. `cultivar` draws the one that `asked.cultivar` names, `day` the
 * day of `asked.today`, or else the last one, `pool` this garden and those of `asked.pool`.
 */
export function figure(ledger: Ledger, kind: DrawnKind, asked: AskedFigure = {}): Promise<string> {
  return inPlainWords(async () => {
    const { svgOf } = await import('./library/drawn-figure.ts');
    return svgOf(ledger, kind, asked);
  });
}

/** The same as PNG, two pixels for each of its width unless `size` is given; `auto` is light. */
export function figurePng(
  ledger: Ledger,
  kind: DrawnKind,
  asked: AskedFigure = {},
): Promise<Uint8Array> {
  return inPlainWords(async () => {
    const { pngBytes } = await import('./library/drawn-figure.ts');
    return pngBytes(ledger, kind, asked);
  });
}
