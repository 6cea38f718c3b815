/**
 * The library face of pomary, for programs that make pages or tables of their own: open a ledger,
 * then ask for reports. Each report is the very object that the command of the same name prints
 * with `--format json`, and takes the same words.
 *
 * Every function rejects with a `UsageError` for what the ledger does not have or a report does not
 * know; `openLedger` also with a `FileFault` for files that cannot be read.
 */

import {
  COMPARE,
  CROPS,
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
import type {
  Asked,
  AskedLineup,
  AskedPool,
  AskedRows,
  AskedTasted,
  Some,
} from './library/asked.ts';
import type { AskedPost, PublishedPost } from './library/asked-post.ts';
import {
  askedReport,
  type Reported,
  type ReportedPage,
  reported,
  reportedPage,
} from './library/reported.ts';
import {
  checkWords,
  dayOf,
  fractionOf,
  inPlainWords,
  requestFor,
  several,
  wholeFrom1,
  withoutBy,
} from './library/request-for.ts';
import type {
  CompareRow,
  CropsRow,
  PoolRow,
  PreferenceRow,
  RankRow,
  RipeningRow,
  ScoresRow,
  SoundnessRow,
  StabilityRow,
  VerdictRow,
  WeightsRow,
  WordsRow,
  YieldRow,
} from './library/row-types.ts';
import type { Ledger } from './model/ledger.ts';

export { UsageError } from './cli/exit.ts';
export { FileFault } from './cli/host.ts';
export type {
  Asked,
  AskedLineup,
  AskedPool,
  AskedRows,
  AskedTasted,
  Some,
} from './library/asked.ts';
export type { AskedPost, PublishedPost } from './library/asked-post.ts';
export { type OpenedLedger, openLedger, type Problem } from './library/open-ledger.ts';
export type { Reported, ReportedPage, ReportedTable } from './library/reported.ts';
export type {
  CompareRow,
  CropsRow,
  PoolRow,
  PreferenceRow,
  RankRow,
  ReportRow,
  RipeningRow,
  ScoresRow,
  SoundnessRow,
  StabilityRow,
  VerdictRow,
  WeightsRow,
  WordsRow,
  YieldRow,
} from './library/row-types.ts';
export type { Cultivar, Tree } from './model/collection.ts';
export type { Cover, Crop, Ledger, Season, Site, Trial } from './model/ledger.ts';
export type { Cell, Note } from './report/table.ts';

export interface AskedSpread extends AskedRows {
  /** Whose trees tell how far trees of a cultivar differ; `shared` if left out. */
  readonly spread?: 'shared' | 'own';
}

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
  return askedReport(CROPS, ledger, asked);
}

export interface AskedSoundness extends AskedRows {
  /** Splits of fruit picked soon after it, against the rest. */
  readonly after?: 'rain' | 'water';
  /** Days; 3 if left out. */
  readonly within?: number;
  /** Rain of a day that counts, mm; 2 if left out. */
  readonly rainFrom?: number;
}

/** Share of sound fruit, and what spoiled the rest: `pomary soundness`. */
export async function soundness(
  ledger: Ledger,
  asked: AskedSoundness = {},
): Promise<Reported<SoundnessRow>> {
  const { within } = asked;
  const days = within === undefined ? undefined : wholeFrom1('within', within);
  return askedReport(SOUNDNESS, ledger, asked, { ...asked, within: days });
}

/** The calendar of picks: `pomary ripening`. */
export function ripening(ledger: Ledger, asked: AskedRows = {}): Promise<Reported<RipeningRow>> {
  return askedReport(RIPENING, ledger, asked);
}

export interface AskedScores extends AskedTasted {
  readonly trait?: Some<string>;
  readonly by?: 'cultivar' | 'tree';
  /** What errors and letters rest on; `plate` if left out. */
  readonly unit?: 'plate' | 'score';
}

/** Mean scores with taster and sitting allowed for: `pomary scores`. */
export function scores(ledger: Ledger, asked: AskedScores = {}): Promise<Reported<ScoresRow>> {
  const lists = { trait: several(asked.trait), ripeness: several(asked.ripeness) };
  return askedReport(SCORES, ledger, asked, { ...asked, ...lists });
}

export interface AskedPreference extends AskedTasted {
  /** Orders as they were given, read off scores, or both; `orders` if left out. */
  readonly from?: 'orders' | 'scores' | 'both';
  /** Wins and losses given to each beforehand; 0.5 if left out, 0 for none. */
  readonly prior?: number;
}

/** What tasters' best-first orders add up to: `pomary preference`. */
export function preference(
  ledger: Ledger,
  asked: AskedPreference = {},
): Promise<Reported<PreferenceRow>> {
  return askedReport(PREFERENCE, ledger, asked, { ...asked, ripeness: several(asked.ripeness) });
}

export interface AskedWords extends Omit<AskedTasted, 'explain'> {}

/** What tasters say each cultivar tastes of, and how often: `pomary words`. */
export function words(ledger: Ledger, asked: AskedWords = {}): Promise<Reported<WordsRow>> {
  return askedReport(WORDS, ledger, asked, { ripeness: several(asked.ripeness) });
}

export interface AskedCompare extends Omit<AskedTasted, 'cultivar' | 'sort' | 'top'> {}

/** Two cultivars part by part, each by key or name: `pomary compare`. */
export function compare(
  ledger: Ledger,
  a: string,
  b: string,
  asked: AskedCompare = {},
): Promise<Reported<CompareRow>> {
  return askedReport(COMPARE, ledger, asked, { ripeness: several(asked.ripeness) }, [a, b]);
}

export interface AskedRank extends Asked {
  /** Whether what stands under glass and in the open is judged apart; `cultivar` if left out. */
  readonly by?: 'cultivar' | 'cover';
  /** Of the simulation; the same seed gives the same figures. */
  readonly seed?: number;
  readonly explain?: boolean;
}

/** Cultivars by the weighted index, crops apart: `pomary rank`. */
export async function rank(ledger: Ledger, asked: AskedRank = {}): Promise<Reported<RankRow>> {
  return askedReport(RANK, ledger, withoutBy(asked), asked);
}

/** Increase, retain, watch or discard: `pomary verdict`. */
export async function verdict(
  ledger: Ledger,
  asked: AskedRank = {},
): Promise<Reported<VerdictRow>> {
  return askedReport(VERDICT, ledger, withoutBy(asked), asked);
}

export interface AskedStability extends Asked {
  /** `productivity`, `size`, `soundness` or a trait; `productivity` if left out. */
  readonly of?: string;
}

/** How steady cultivars are over seasons and sites: `pomary stability`. */
export function stability(
  ledger: Ledger,
  asked: AskedStability = {},
): Promise<Reported<StabilityRow>> {
  return askedReport(STABILITY, ledger, asked);
}

/**
 * What to expect in gardens like these: `pomary pool`.
 *
 * @param others ledgers of other gardens, opened as home was
 */
export function pool(
  home: Ledger,
  others: readonly Ledger[],
  asked: AskedPool = {},
): Promise<Reported<PoolRow>> {
  return reported(async () => {
    const { poolReport } = await import('./report/pool/pool-report.ts');
    const { pooledGardens } = await import('./library/pooled-gardens.ts');
    const { material, asked: request } = pooledGardens(home, others, asked);
    return poolReport(material, request);
  });
}

/** What to taste next, with blind codes and serving orders: `pomary lineup`. */
export function lineup(ledger: Ledger, asked: AskedLineup = {}): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { proposedLineup } = await import('./library/proposed-lineup.ts');
    return proposedLineup(ledger, asked);
  });
}

export interface AskedCard extends Pick<Asked, 'season' | 'crop' | 'confidence' | 'today'> {
  /** Notes of the seasons at most; 6 if left out. */
  readonly notes?: number;
  /** Whether its rank in each season alone is told as well, as the command's JSON does; true if left out. */
  readonly full?: boolean;
}

/** All that is known of one cultivar: `pomary card`. */
export function card(
  ledger: Ledger,
  cultivar: string,
  asked: AskedCard = {},
): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { cultivarCard } = await import('./cli/cultivar-card.ts');
    const { selection, confidence, today } = requestFor(ledger, asked);
    const remarks = wholeFrom1('notes', asked.notes ?? 6);
    const { full = true } = asked;
    return cultivarCard(ledger, cultivar, { selection, confidence, remarks, today, full });
  });
}

export interface AskedDay extends Pick<Asked, 'confidence'> {
  /** Whether tasters are told by name, not only by their number; true if left out. */
  readonly names?: boolean;
  readonly explain?: boolean;
}

/**
 * What was picked and tasted on a day, YYYY-MM-DD, or on the last one with a pick or a sitting:
 * `pomary day`.
 */
export function day(ledger: Ledger, on?: string, asked: AskedDay = {}): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { askedDay } = await import('./cli/request.ts');
    const { dayDocument } = await import('./report/day/day-document.ts');
    checkWords(asked);
    const { confidence = 95, names = true, explain = false } = asked;
    return dayDocument(ledger, {
      on: await askedDay(ledger, on),
      confidence: fractionOf(confidence),
      naming: names ? 'names' : 'number',
      explain,
    });
  });
}

/** An article on what is worth planting: `pomary post`. */
export function post(ledger: Ledger, asked: AskedPost = {}): Promise<PublishedPost> {
  return inPlainWords(async () => {
    const { publishedPost } = await import('./library/published-post.ts');
    return publishedPost(ledger, asked);
  });
}

export interface AskedFigure extends Omit<Asked, 'sort'> {
  /** What it stands on; `auto`, by the reader's screen, if left out. */
  readonly ground?: 'auto' | 'light' | 'dark' | 'none';
}

type FigureKind = 'ranks' | 'ripening' | 'weights' | 'cultivar' | 'day';

/**
 * A figure as SVG: `pomary figure`. `cultivar` draws the one that `asked.cultivar` names, `day` the
 * day of `asked.today`, or else the last one.
 */
export function figure(ledger: Ledger, kind: FigureKind, asked: AskedFigure = {}): Promise<string> {
  return inPlainWords(async () => {
    const { svgOf } = await import('./library/drawn-figure.ts');
    return svgOf(ledger, kind, asked);
  });
}

/** The same as PNG, two pixels for each of its width; `auto` is light. */
export function figurePng(
  ledger: Ledger,
  kind: FigureKind,
  asked: AskedFigure = {},
): Promise<Uint8Array> {
  return inPlainWords(async () => {
    const { pngBytes } = await import('./library/drawn-figure.ts');
    return pngBytes(ledger, kind, asked);
  });
}

export interface AskedChanges
  extends Pick<Asked, 'crop' | 'site' | 'top' | 'confidence' | 'today'> {
  /** The last season if left out. */
  readonly season?: number;
  /** The season before it if left out. */
  readonly against?: number;
}

/** What is different between two seasons: `pomary changes`. */
export function changes(ledger: Ledger, asked: AskedChanges = {}): Promise<ReportedPage> {
  return reportedPage(async () => {
    const { changesOfSeasons } = await import('./cli/changes-page.ts');
    checkWords(asked);
    const { season, against, top = 6, confidence = 95 } = asked;
    return changesOfSeasons(ledger, {
      season: season === undefined ? [] : [[season]],
      ...(against === undefined ? {} : { against }),
      crop: several(asked.crop),
      site: several(asked.site),
      top: wholeFrom1('top', top),
      confidence: fractionOf(confidence),
      today: dayOf(asked.today),
    });
  });
}
