import type { LocatedDiagnostic } from '../diagnostics/diagnostic.ts';
import { SECTIONS } from '../entries/catalogue.ts';
import { decode } from '../reading/decode.ts';
import { locate } from '../reading/yaml-locate.ts';
import { positionAt } from '../source/position.ts';
import type { Place, SourceFile } from '../source/source-file.ts';
import { type Entered, isListFile, isListing, isSeasonEntry, LISTINGS } from './listing.ts';
import type { CropNames, NewEntry } from './new-entry.ts';
import { type Refusal, refusal } from './outcome.ts';
import { placeEntries } from './place-entries.ts';
import { listingLines, placeListings } from './place-listings.ts';
import { sectionLines } from './season-file.ts';
import { ABSENT, type HeldFile, type Store, StoreFault } from './store.ts';

/** The entries are in the file. */
export interface Recorded {
  readonly kind: 'recorded';
  readonly file: SourceFile;
  /** Each entry with the line on which it stands, counted from 1. */
  readonly added: readonly { readonly entry: Entered; readonly line: number }[];
}

/** The file was not touched; `entries` are the lines that were to be written, for the person to keep. */
export interface NotRecorded {
  readonly kind: 'refused' | 'failed';
  readonly path: string;
  /** Why, where the file or an entry has something wrong. */
  readonly diagnostics: readonly LocatedDiagnostic[];
  /** Why, where the disk does not play along. */
  readonly fault:
    | { readonly code: string; readonly message: string; readonly advice: string }
    | undefined;
  readonly entries: string;
}

export interface Planned extends Made {
  readonly before: SourceFile;
}

/** A file with entries in it that has been verified, as `placeEntries` does. */
interface Made {
  readonly after: SourceFile;
  readonly added: readonly { readonly entry: Entered; readonly at: Place }[];
}

export interface PlacingOptions {
  readonly crops?: CropNames;
  /** What placing these entries in the file has made before; it holds while the file is the same. */
  readonly planned?: Planned;
  /**
   * Looks at the file before and after, with whatever rules there are; what it finds stops the
   * write. It is asked inside the lock, and again whenever the file changed meanwhile.
   */
  readonly check?: (before: SourceFile, after: SourceFile) => readonly LocatedDiagnostic[];
}

/** How often a file that changes under the writer is read anew. */
const TRIES = 8;

/**
 * Puts entries into one season file on the disk: under a lock it reads, places, checks and writes.
 * If someone saves the file between the reading and the writing, it begins again with what is there
 * now, so that nothing is lost; if that goes on, it stops and hands the entries back.
 *
 * @param path relative to the ledger folder, `seasons/2026.yaml`
 */
export async function recordEntries(
  store: Store,
  path: string,
  entries: readonly Entered[],
  options: PlacingOptions = {},
): Promise<Recorded | NotRecorded> {
  try {
    return await store.whileLocked(path, async (held) => {
      for (let attempt = 0; attempt < TRIES; attempt++) {
        const done = await tryOnce(held, path, entries, options);
        if (done !== 'changed') return done;
      }
      const message = `the file was changed ${TRIES} times while the entries were being put in`;
      const advice = 'close what keeps saving it, and try again';
      return notRecorded('failed', path, entries, [], { code: 'CHANGED', message, advice });
    });
  } catch (thrown) {
    if (!(thrown instanceof StoreFault)) throw thrown;
    const fault = { code: thrown.code, message: thrown.message, advice: thrown.advice };
    return notRecorded('failed', path, entries, [], fault);
  }
}

async function tryOnce(
  held: HeldFile,
  path: string,
  entries: readonly Entered[],
  options: PlacingOptions,
): Promise<Recorded | NotRecorded | 'changed'> {
  const stored = await held.read();
  const bytes = stored?.bytes ?? new Uint8Array();
  const decoded = decode({ path, bytes, size: bytes.length });
  const made: Made | Refusal =
    decoded.diagnostics.length > 0
      ? refusal(...decoded.diagnostics)
      : place(decoded.file, entries, options);
  if ('diagnostics' in made) return notRecorded('refused', path, entries, made.diagnostics);
  const found = options.check?.(decoded.file, made.after) ?? [];
  if (found.length > 0) return notRecorded('refused', path, entries, found);
  const mark = stored?.mark ?? ABSENT;
  const outcome = await held.writeIfUnchanged(encoded(made.after), mark);
  if (outcome === 'changed') return 'changed';
  const added = made.added.map(({ entry, at }) => {
    const span = locate(at);
    return { entry, line: positionAt(span.file, span.start).line };
  });
  return { kind: 'recorded', file: made.after, added };
}

function place(
  file: SourceFile,
  entries: readonly Entered[],
  { crops, planned }: PlacingOptions,
): Made | Refusal {
  if (planned?.before.text === file.text && planned.before.bom === file.bom) return planned;
  const placed = isListFile(file.path)
    ? placeListings(file, entries.filter(isListing))
    : placeEntries(file, entries.filter(isSeasonEntry), crops);
  return placed.kind === 'refused' ? placed : { after: placed.file, added: placed.added };
}

/** The bytes of a file, with the byte order mark that it began with. */
export function encoded(file: SourceFile): Uint8Array {
  return new TextEncoder().encode(file.bom ? `\ufeff${file.text}` : file.text);
}

/** Entries as the lines of their files. */
export function entriesAsText(entries: readonly Entered[]): string {
  const listed = LISTINGS.flatMap((list) =>
    entries.flatMap((one) => (isListing(one) && one.section === list ? listingLines(one, 0) : [])),
  );
  const lines = SECTIONS.flatMap((section) => {
    const own = entries.flatMap((one) => (one.section === section ? [one.entry] : []));
    return own.length === 0 ? [] : sectionLines(section, own as NewEntry['entry'][]);
  });
  return `${[...listed, ...lines].join('\n')}\n`;
}

function notRecorded(
  kind: NotRecorded['kind'],
  path: string,
  entries: readonly Entered[],
  diagnostics: readonly LocatedDiagnostic[],
  fault?: NotRecorded['fault'],
): NotRecorded {
  return { kind, path, diagnostics, fault, entries: entriesAsText(entries) };
}
