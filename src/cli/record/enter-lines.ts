import { CATALOGUE, SECTIONS } from '../../entries/catalogue.ts';
import { namesOf } from '../../entries/kind.ts';
import type { IsoDate } from '../../model/dates.ts';
import type { SeasonSection } from '../../model/ledger.ts';
import type { SourceFile } from '../../source/source-file.ts';
import { type Entered, isListing, isSeasonEntry, LISTINGS } from '../../writing/listing.ts';
import type { NewEntry } from '../../writing/new-entry.ts';
import { dateInWords } from '../../writing/shorthand/typed-date.ts';
import { EXIT, Finished } from '../exit.ts';
import { lookOf } from '../look.ts';
import type { Desk } from './desk.ts';
import { ledgerSoFar } from './ledger-so-far.ts';
import { linesAgain, readLines, type TypedLine } from './read-lines.ts';
import { entriesThere, partRepeats, tellRepeats } from './repeats.ts';
import { sortEntries } from './sort-entries.ts';
import {
  handBack,
  saidLines,
  tellDiagnostics,
  tellDiff,
  tellFailure,
  tellWritten,
} from './tell.ts';
import { writePlan } from './write-plan.ts';

export interface EnterOptions {
  readonly color: boolean;
  readonly dryRun: boolean;
  readonly keepGood: boolean;
  /** Write what the ledger has already once more. */
  readonly again: boolean;
  /** Tell every entry back, however many there are. */
  readonly echo: boolean;
}

/** So many entries are told back whole; of more, what each day has. */
const TOLD_WHOLE = 20;

/**
 * Writes a text of shorthand from a file or a pipe. All lines are checked first; with anything wrong
 * nothing is written, unless the good ones are to be kept and the others handed back.
 */
export async function enterLines(
  desk: Desk,
  file: SourceFile,
  date: IsoDate,
  options: EnterOptions,
): Promise<void> {
  const { host } = desk;
  const read = readLines(
    file,
    (entered) => ledgerSoFar(desk, entered),
    (listed) => entriesThere(desk, listed).size === listed.length,
    desk.today,
    date,
  );
  const { fresh, repeats } = partRepeats(desk, read.entries, options.again);
  const sorted = sortEntries(desk, { ...read, entries: fresh });
  const { plan, faulty } = sorted;
  const noColor = !options.color;
  tellDiagnostics(host, noColor, sorted.said);
  const status = sorted.isFaulty ? EXIT.ledgerErrors : EXIT.done;
  if (sorted.isFaulty && (!options.keepGood || sorted.isHopeless)) {
    host.stderr.write('Nothing was written.\n');
    throw new Finished(status);
  }
  tellRepeats(desk, repeats, 'entry');
  if (options.dryRun) tellDiff(host, plan.files);
  else {
    const { written, failure } = await writePlan(desk, plan);
    if (options.echo || written.length <= TOLD_WHOLE) tellWritten(desk, written);
    else {
      for (const line of dayLines(written.map(({ entry }) => entry))) {
        host.stdout.write(saidLines('', line, lookOf(host, host.stdout, true)));
      }
    }
    if (failure !== undefined) {
      handBackLines(desk, faulty);
      throw new Finished(tellFailure(host, noColor, failure));
    }
    const count = written.length === 1 ? '1 entry' : `${written.length} entries`;
    const none = repeats.length > 0 ? 'Nothing new to write.\n' : 'No entries.\n';
    host.stdout.write(written.length === 0 ? none : `${count} written.\n`);
  }
  handBackLines(desk, faulty);
  if (status !== EXIT.done) throw new Finished(status);
}

function handBackLines({ host }: Desk, lines: readonly TypedLine[]): void {
  if (lines.length === 0) return;
  handBack(host, 'These lines were not written:', linesAgain(lines).join('\n'));
}

/** What was entered, a line a day, what was listed first: for texts too long to be told back whole. */
function dayLines(entered: readonly Entered[]): readonly string[] {
  const lists = LISTINGS.map((list) => ({
    list,
    number: entered.filter((one) => isListing(one) && one.section === list).length,
  }));
  const listed = lists.flatMap(({ list, number }) =>
    number === 0 || list === 'removals' ? [] : [counted(number, NAMES[list])],
  );
  const removed = lists.find(({ list }) => list === 'removals')?.number ?? 0;
  const days = new Map<string, NewEntry[]>();
  for (const one of entered.filter(isSeasonEntry)) {
    days.set(one.entry.on, [...(days.get(one.entry.on) ?? []), one]);
  }
  const told = [...days]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([on, own]) => `${dateInWords(on)}: ${ofDay(own).join(', ')}`);
  return [
    ...(listed.length === 0 ? [] : [`New: ${listed.join(', ')}`]),
    ...(removed === 0 ? [] : [`Taken out: ${counted(removed, NAMES.trees)}`]),
    ...told,
  ];
}

type Names = readonly [one: string, many: string];

const NAMES: Readonly<Record<Exclude<(typeof LISTINGS)[number], 'removals'>, Names>> = {
  settings: ['setting', 'settings'],
  tasters: ['taster', 'tasters'],
  sites: ['site', 'sites'],
  cultivars: ['cultivar', 'cultivars'],
  trees: ['tree', 'trees'],
};

function counted(number: number, [one, many]: Names): string {
  return `${number} ${number === 1 ? one : many}`;
}

function ofDay(entries: readonly NewEntry[]): readonly string[] {
  const of = (section: NewEntry['section']) =>
    entries.filter((one) => one.section === section).length;
  const picked = entries.flatMap((one) =>
    one.section === 'picks' ? [one.entry.fruit ?? one.entry.weights?.length ?? 0] : [],
  );
  const fruit = picked.reduce((sum, one) => sum + one, 0);
  const named = (section: SeasonSection): Names => {
    const [one, many] = namesOf(CATALOGUE[section]);
    return section === 'picks'
      ? [`${one} of ${fruit} fruit`, `${many} of ${fruit} fruit`]
      : [one, many];
  };
  const parts = SECTIONS.filter((section) => section !== 'tastings').map(
    (section) => [of(section), named(section)] as const,
  );
  return [
    ...parts.flatMap(([number, names]) => (number === 0 ? [] : [counted(number, names)])),
    ...tasted(entries),
  ];
}

function tasted(entries: readonly NewEntry[]): readonly string[] {
  const sittings = entries.flatMap((one) => (one.section === 'tastings' ? [one.entry] : []));
  const plates = new Set(
    sittings.flatMap(({ samples }) => samples.map(({ tree, crop, as }) => `${as ?? tree} ${crop}`)),
  );
  const tasters = new Set(
    sittings.flatMap(({ scores, words, order }) =>
      [scores, words, order].flatMap((by) => Object.keys(by ?? {})),
    ),
  );
  const orders = sittings.reduce((sum, { order }) => sum + Object.keys(order ?? {}).length, 0);
  if (plates.size === 0) return [];
  return [
    `${counted(plates.size, ['plate', 'plates'])} before ${counted(tasters.size, ['taster', 'tasters'])}`,
    ...(orders === 0 ? [] : [counted(orders, ['order', 'orders'])]),
  ];
}
