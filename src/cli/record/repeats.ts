import { positionAt } from '../../source/position.ts';
import { alreadyThere, listingsThere } from '../../writing/import/already-there.ts';
import { byFile, type Entered, isListing, isSeasonEntry } from '../../writing/listing.ts';
import { entryInWords } from '../../writing/shorthand/entry-in-words.ts';
import type { Host } from '../host.ts';
import { lookOf } from '../look.ts';
import type { Desk } from './desk.ts';
import { lineRuns } from './line-runs.ts';
import { linesAgain, type ReadEntry, type TypedLine } from './read-lines.ts';
import { saidLines } from './tell.ts';

/** What a text has to say that the ledger does not, and what the ledger says to the letter already. */
export interface PartedRepeats {
  readonly fresh: readonly ReadEntry[];
  readonly repeats: readonly ReadEntry[];
}

/**
 * Parts what is to be written from what stands there already, so that the same text may come twice.
 * What stands in the ledger once answers for one entry: two picks of one evening that are alike are
 * both taken when they first come.
 *
 * @param again whether what may be true twice is written once more
 */
export function partRepeats(
  desk: Desk,
  entries: readonly ReadEntry[],
  again: boolean,
): PartedRepeats {
  const there = entriesThere(
    desk,
    entries.map(({ entry }) => entry),
  );
  const isRepeat = ({ entry }: ReadEntry) => there.has(entry) && !(again && mayBeTrueTwice(entry));
  return {
    fresh: entries.filter((one) => !isRepeat(one)),
    repeats: entries.filter(isRepeat),
  };
}

/** Those of some entries that files of the ledger have already. */
export function entriesThere(
  { ledger, files, readYaml }: Desk,
  entries: readonly Entered[],
): ReadonlySet<Entered> {
  const there: Entered[] = [];
  for (const [path, own] of byFile(entries, ledger.trial.place.latitude)) {
    const known = files.find(({ file }) => file.path === path);
    if (known === undefined) continue;
    const { value } = readYaml(known.file);
    there.push(
      ...alreadyThere(own.filter(isSeasonEntry), value, ledger),
      ...listingsThere(own.filter(isListing), value),
    );
  }
  return new Set(there);
}

/** A list has a thing once, and of a sitting a mark stands once; a pick may be made twice a day. */
function mayBeTrueTwice(entry: Entered): boolean {
  return isSeasonEntry(entry) && entry.section !== 'tastings';
}

/** Of so many lines the text is told too; of more, where they stand. */
const TOLD_WHOLE = 20;

/** Says what was passed over, file by file. */
export function tellRepeats(
  { host, ledger }: Desk,
  repeats: readonly ReadEntry[],
  what: 'row' | 'entry',
): void {
  const look = lookOf(host, host.stdout, true);
  const linesOf = new Map(repeats.map(({ entry, lines }) => [entry, lines]));
  const files = byFile(
    repeats.map(({ entry }) => entry),
    ledger.trial.place.latitude,
  );
  for (const [path, own] of files) {
    const many = what === 'row' ? 'rows' : 'entries';
    const number = own.length === 1 ? `1 ${what} is` : `${own.length} ${many} are`;
    const lines = own.flatMap((entry) => linesOf.get(entry) ?? []);
    const text = `${path}: ${number} there already and passed over (${numbersSaid(lines)})`;
    host.stdout.write(saidLines('', text, look));
    if (lines.length > TOLD_WHOLE) continue;
    for (const line of linesAgain(lines)) host.stdout.write(saidLines('  ', line, look));
  }
  tellOfAgain(
    host,
    repeats.map(({ entry }) => entry),
  );
}

/** Says of the entry of a command that the ledger has it. */
export function tellRepeated(desk: Desk, repeated: readonly Entered[]): void {
  const { host } = desk;
  const look = lookOf(host, host.stdout, true);
  for (const [path, own] of byFile(repeated, desk.ledger.trial.place.latitude)) {
    host.stdout.write(saidLines('', `${path}: this is there already; nothing was written`, look));
    for (const entry of own) {
      host.stdout.write(saidLines('  ', entryInWords(desk.ledger, entry), look));
    }
  }
  tellOfAgain(host, repeated);
}

function tellOfAgain(host: Host, repeated: readonly Entered[]): void {
  if (!repeated.some(mayBeTrueTwice)) return;
  host.stdout.write('What is true twice is written once more with --again.\n');
}

function numbersSaid(lines: readonly TypedLine[]): string {
  const numbers = new Set(lines.map(({ at }) => positionAt(at.file, at.start).line));
  return `${numbers.size === 1 ? 'line' : 'lines'} ${lineRuns(numbers)}`;
}
