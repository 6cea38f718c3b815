import { diagnose, type LocatedDiagnostic } from '../../diagnostics/diagnostic.ts';
import { sortedDiagnostics } from '../../diagnostics/order.ts';
import { dayAhead } from '../../diagnostics/words/shorthand.ts';
import type { Decoded } from '../../reading/decode.ts';
import { locate, located } from '../../reading/yaml-locate.ts';
import type { SourceFile, Span } from '../../source/source-file.ts';
import {
  byFile,
  type Entered,
  isListFile,
  isListing,
  isSeasonEntry,
} from '../../writing/listing.ts';
import { placeEntries } from '../../writing/place-entries.ts';
import { placeListings } from '../../writing/place-listings.ts';
import { findings, newFindings } from './check-files.ts';
import type { Desk } from './desk.ts';

/** What the ledger would be with some entries in it. */
export interface Plan {
  readonly files: readonly PlannedFile[];
  /** Entries that cannot be put in, each with the reason. */
  readonly refused: readonly Refused[];
  /** Everything that the checks would find. */
  readonly diagnostics: readonly LocatedDiagnostic[];
  /** What they would find and do not find today. */
  readonly found: readonly Finding[];
}

export interface PlannedFile {
  readonly path: string;
  /** Its text is empty where there is no file yet. */
  readonly before: SourceFile;
  readonly after: SourceFile;
  readonly added: readonly AddedEntry[];
}

export interface AddedEntry {
  readonly entry: Entered;
  /** Where it would stand. */
  readonly at: Span;
}

export interface Refused {
  readonly entry: Entered;
  readonly diagnostics: readonly LocatedDiagnostic[];
  /** Whether the file cannot be read, whatever is to be put into it. */
  readonly isOfFile?: boolean;
}

export interface Finding {
  readonly diagnostic: LocatedDiagnostic;
  /** The new entries that it is about; none where it is about something else. */
  readonly entries: readonly Entered[];
}

/** Puts entries into the files in memory and checks the ledger that this would give. */
export function planEntries(desk: Desk, entries: readonly Entered[]): Plan {
  const { trial } = desk.ledger;
  const files: PlannedFile[] = [];
  const refused: Refused[] = [];
  for (const [path, own] of byFile(entries, trial.place.latitude)) {
    const decoded = desk.files.find((one) => one.file.path === path);
    const { file, diagnostics } = decoded ?? unchanged({ path, text: '', bom: false });
    const unreadable = [...diagnostics, ...desk.readYaml(file).diagnostics];
    if (unreadable.length > 0) {
      const found = sortedDiagnostics(located(unreadable));
      refused.push(...own.map((entry) => ({ entry, diagnostics: found, isOfFile: true })));
      continue;
    }
    const placed = placeSome(desk, file, own);
    refused.push(...placed.refused);
    files.push({ path, before: file, after: placed.file, added: placed.added });
  }
  const checked = findings(desk.reader.read(withFiles(desk.files, files)));
  const ahead = daysAhead(desk, files);
  const found = [...newFindings(desk.read, checked), ...ahead].map((diagnostic) => ({
    diagnostic,
    entries: entriesAt(diagnostic, files),
  }));
  return { files, refused, diagnostics: [...checked, ...ahead], found };
}

/** What is doubted of the day on which it is typed, and not of a file that lies there. */
function daysAhead(desk: Desk, files: readonly PlannedFile[]): readonly LocatedDiagnostic[] {
  const added = files.flatMap((file) => file.added);
  return located(
    added.flatMap(({ entry, at }) =>
      isSeasonEntry(entry) && entry.entry.on > desk.today
        ? [diagnose(dayAhead, at, { on: entry.entry.on })]
        : [],
    ),
  );
}

/** Files of a ledger with some of them as planned. */
export function withFiles(
  files: readonly Decoded[],
  planned: readonly { readonly path: string; readonly after: SourceFile }[],
): readonly Decoded[] {
  const kept = files.filter(({ file }) => !planned.some(({ path }) => path === file.path));
  return [...kept, ...planned.map(({ after }) => unchanged(after))];
}

function unchanged(file: SourceFile): Decoded {
  return { file, diagnostics: [] };
}

interface PlacedSome {
  readonly file: SourceFile;
  readonly added: readonly AddedEntry[];
  readonly refused: readonly Refused[];
}

/** All of the entries, or where they are refused together as many as can be placed one by one. */
function placeSome(desk: Desk, file: SourceFile, entries: readonly Entered[]): PlacedSome {
  const { readYaml } = desk;
  const crops = desk.ledger.trial.cropNames;
  const place = (some: readonly Entered[]) =>
    isListFile(file.path)
      ? placeListings(file, some.filter(isListing), readYaml)
      : placeEntries(file, some.filter(isSeasonEntry), crops, readYaml);
  const all = place(entries);
  if (all.kind === 'placed') return { file: all.file, added: spansOf(all.added), refused: [] };
  const refused: Refused[] = [];
  const sound: Entered[] = [];
  for (const entry of entries) {
    const made = place([...sound, entry]);
    if (made.kind === 'placed') sound.push(entry);
    else refused.push({ entry, diagnostics: made.diagnostics });
  }
  const made = place(sound);
  if (made.kind === 'placed') return { file: made.file, added: spansOf(made.added), refused };
  return {
    file,
    added: [],
    refused: entries.map((entry) => ({ entry, diagnostics: all.diagnostics })),
  };
}

function spansOf(
  added: readonly { readonly entry: Entered; readonly at: Parameters<typeof locate>[0] }[],
): readonly AddedEntry[] {
  return added.map(({ entry, at }) => ({ entry, at: locate(at) }));
}

function entriesAt({ at }: LocatedDiagnostic, files: readonly PlannedFile[]): readonly Entered[] {
  return files
    .filter(({ path }) => path === at.file.path)
    .flatMap(({ added }) => added)
    .filter((one) => one.at.start <= at.start && at.start < Math.max(one.at.end, one.at.start + 1))
    .map(({ entry }) => entry);
}
