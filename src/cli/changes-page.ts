import { checkLedger, errorRules } from '../checks/index.ts';
import { sortedDiagnostics } from '../diagnostics/order.ts';
import type { Selection } from '../measure/selection.ts';
import type { Ledger } from '../model/ledger.ts';
import { readLedger } from '../reading/read-ledger.ts';
import { located } from '../reading/yaml-locate.ts';
import { type Revision, revisionChanges } from '../report/changes/revision-changes.ts';
import { seasonChanges } from '../report/changes/season-changes.ts';
import type { Document } from '../report/document.ts';
import { rankReport } from '../report/judged/rank-report.ts';
import type { ReportRequest } from '../report/report-request.ts';
import { EXIT, Finished, UsageError } from './exit.ts';
import { findLedger } from './find-ledger.ts';
import { type Host, type Snapshot, UnknownRevision } from './host.ts';
import { lookOf } from './look.ts';
import { type GlobalOptions, MOST_SHOWN, openForReport } from './open-ledger.ts';
import type { DocumentOptions } from './print-document.ts';
import { selectionOf } from './request.ts';

export interface ChangesOptions extends GlobalOptions, DocumentOptions {
  readonly season: readonly (readonly number[])[];
  readonly against?: number;
  readonly since?: string;
  readonly until?: string;
  readonly crop: readonly string[];
  readonly site: readonly string[];
  readonly top: number;
  readonly confidence: number;
}

/** The changes that a command line asks for: of seasons, or with `--since` of revisions. */
export async function changesPage(host: Host, options: ChangesOptions): Promise<Document> {
  const { since, until } = options;
  if (since !== undefined) return sinceRevision(host, options, since);
  if (until !== undefined) throw new UsageError('--until goes with --since');
  const ledger = await openForReport(host, options);
  return changesOfSeasons(ledger, { ...options, today: host.today() });
}

/** What `changesOfSeasons` needs of the options. */
export interface SeasonsAsked
  extends Pick<ChangesOptions, 'season' | 'against' | 'crop' | 'site' | 'top' | 'confidence'> {
  /** As of a `ReportRequest`. */
  readonly today: ReportRequest['today'];
}

export function changesOfSeasons(ledger: Ledger, options: SeasonsAsked): Promise<Document> {
  const [season, against] = seasonsOf(ledger, options);
  const { crop, site, top, confidence, today } = options;
  const asked = selectionOf(ledger, { season: [], crop, site, cultivar: [], tree: [] });
  const side = (year: number) => {
    const selection: Selection = { ...asked, seasons: [year] };
    return { ledger, selection, label: String(year) };
  };
  const sides = { before: side(against), after: side(season) };
  return seasonChanges({ ...sides, confidence, top, today, rank: rankReport }, against, season);
}

/** The season and the one it is set against, both of which the ledger has. */
function seasonsOf(ledger: Ledger, options: SeasonsAsked): readonly [number, number] {
  const years = ledger.seasons.map(({ year }) => year);
  const asked = options.season.flat();
  if (asked.length > 1) {
    throw new UsageError(
      'one season is set against another: write --season 2026 --against 2025, or --since with several',
    );
  }
  const season = asked[0] ?? years.at(-1);
  const against =
    options.against ?? years.findLast((year) => season !== undefined && year < season);
  const has =
    years.length === 0
      ? 'no seasons yet'
      : years.length === 1
        ? `only the season ${years.join()}`
        : `the seasons ${years.join(', ')}`;
  for (const year of [season, against]) {
    if (year === undefined || !years.includes(year)) {
      const which = year === undefined ? 'two seasons are needed' : `there is no season ${year}`;
      throw new UsageError(`${which}; the ledger has ${has}`);
    }
  }
  if (season === undefined || against === undefined || season === against) {
    throw new UsageError(`the season ${season} cannot be set against itself`);
  }
  return [season, against];
}

async function sinceRevision(
  host: Host,
  options: ChangesOptions,
  since: string,
): Promise<Document> {
  const folder = findLedger(host, options.ledger);
  const before = await openPastLedger(host, options, folder, since);
  const past =
    options.until === undefined
      ? undefined
      : await openPastLedger(host, options, folder, options.until);
  const ledger = past?.ledger ?? (await openForReport(host, options));
  const { confidence, top } = options;
  const selection = selectionOf(ledger, { ...options, cultivar: [], tree: [] });
  const sides = {
    before: { ledger: before.ledger, selection, label: before.snapshot.commit.name },
    after: { ledger, selection, label: past?.snapshot.commit.name ?? 'now' },
  };
  const asked = { ...sides, confidence, top, rank: rankReport };
  return revisionChanges(asked, revisionOf(before), past === undefined ? NOW : revisionOf(past));
}

const NOW: Revision = { words: 'the files as they are', commit: null };

function revisionOf({ snapshot }: PastLedger): Revision {
  const { commit, folder, moved } = snapshot;
  const where = moved ? `, then in ${folder === '' ? 'the top folder' : folder}` : '';
  return { words: `${commit.name}, ${commit.day}: ${commit.subject}${where}`, commit: commit.name };
}

interface PastLedger {
  readonly ledger: Ledger;
  readonly snapshot: Snapshot;
}

/**
 * The ledger as it was at a revision. With any error in it the errors are shown on standard error
 * and the command ends, as with the ledger of today.
 */
async function openPastLedger(
  host: Host,
  options: GlobalOptions,
  folder: string,
  revision: string,
): Promise<PastLedger> {
  const snapshot = await snapshotAt(host, folder, revision);
  const { ledger, diagnostics } = readLedger(snapshot.files);
  const found = ledger === undefined ? [] : located(checkLedger(ledger, errorRules));
  const errors = sortedDiagnostics([...diagnostics, ...found]).filter(
    ({ severity }) => severity === 'error',
  );
  if (ledger !== undefined && errors.length === 0) return { ledger, snapshot };
  const { renderDiagnostics } = await import('../render/diagnostics-text.ts');
  const look = lookOf(host, host.stderr, !options.color);
  host.stderr.write(renderDiagnostics(errors, look, { atMost: MOST_SHOWN }));
  host.stderr.write(
    `The ledger of ${snapshot.commit.name} (${snapshot.commit.day}) has these errors, so nothing is computed from it; choose a revision without any.\n`,
  );
  throw new Finished(EXIT.ledgerErrors);
}

async function snapshotAt(host: Host, folder: string, revision: string): Promise<Snapshot> {
  try {
    return await host.revisions.read(folder, revision, isLedgerFile);
  } catch (thrown) {
    if (thrown instanceof UnknownRevision) throw new UsageError(thrown.message);
    throw thrown;
  }
}

/** The same files that `readFiles` takes from a folder. */
function isLedgerFile(path: string): boolean {
  return (
    /^(ledger|cultivars|trees)\.yaml$/.test(path) ||
    /^seasons\/[^./][^/]*\.ya?ml$/i.test(path) ||
    /^weather\/[^./][^/]*\.csv$/i.test(path)
  );
}
