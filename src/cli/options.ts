import { type Command, InvalidArgumentError, Option } from 'commander';
import { CONFIDENCE } from '../measure/confidence.ts';
import { BYS, type By } from '../measure/group-records.ts';
import { type IsoDate, parseIsoDate } from '../model/dates.ts';
import { DOCUMENT_FORMATS } from '../render/document.ts';
import { GROUNDS } from '../render/figure-style.ts';
import { FORMATS, type Format } from '../render/render-report.ts';
import { NOTE_LEVELS, type NoteLevel } from '../render/shown-notes.ts';
import { SPREADS } from '../report/report-request.ts';

/** What the options of a report come to, once commander has parsed them. */
export interface ReportOptions {
  readonly season: readonly (readonly number[])[];
  readonly crop: readonly string[];
  readonly site: readonly string[];
  readonly cultivar: readonly string[];
  readonly tree: readonly string[];
  /** Absent where a report's rows are always the same. */
  readonly by?: readonly By[];
  readonly sort?: string;
  readonly top?: number;
  readonly confidence: number;
  readonly explain?: boolean;
  /** Keys or labels, with commas between. */
  readonly columns?: string;
  readonly notes?: NoteLevel;
  readonly format?: Format;
  readonly decimal?: 'point' | 'comma';
  readonly output?: string;
}

/** Which part of the ledger. */
export function withSelection(command: Command): Command {
  return command
    .addOption(seasonOption())
    .addOption(cropOption())
    .addOption(siteOption())
    .addOption(repeatable('--cultivar <key>', 'a cultivar, by key or name', String))
    .addOption(repeatable('--tree <id>', 'a tree', String));
}

export function seasonOption(): Option {
  return repeatable('--season <year>', 'a season or a span, as 2026 or 2024..2026', parseSeasons);
}

export function cropOption(): Option {
  return repeatable('--crop <crop>', "early or main, or the ledger's word", String);
}

export function siteOption(): Option {
  return repeatable('--site <key>', 'a site, by key or name', String);
}

/** What a row is. */
export function withBy(usual: By) {
  return (command: Command): Command =>
    command.addOption(
      new Option('--by <what>', `what a row is: ${BYS.join(', ')}, or several with commas`)
        .argParser(parseBy)
        .default([], usual),
    );
}

/** Whether what stands under glass and in the open is judged apart. */
export function withCovers(command: Command): Command {
  return command.addOption(
    new Option('--by <what>', 'a row a cultivar, or a row a cultivar and cover')
      .choices(['cultivar', 'cover'])
      .default('cultivar'),
  );
}

/** Which trees tell how far trees of a cultivar differ. */
export function withSpread(command: Command): Command {
  return command.addOption(
    new Option('--spread <whose>', 'spread behind intervals: shared by all cultivars, or own')
      .choices(SPREADS)
      .default(SPREADS[0]),
  );
}

/** In which order rows stand, and how many of them. */
export function withOrder(command: Command): Command {
  return command
    .option('--sort <column>', 'sort by a column, by label or key; :asc or :desc behind it')
    .addOption(new Option('--top <n>', 'show the first rows only').argParser(parseCount));
}

/** Which random numbers; any number gives figures that are as good. */
export function withSeed(what: string) {
  return (command: Command): Command =>
    command.addOption(new Option('--seed <n>', what).argParser(parseSeed));
}

/** How much is said of the method. */
export function withExplain(command: Command): Command {
  return command.option('--explain', 'tell how it is computed, with sources', false);
}

/** How sure, what of it, in which form, and where to. */
export function withOutput(command: Command): Command {
  return withFile(
    withExplain(withConfidence(command))
      .option('--columns <names>', 'which columns, by label or key, with commas; or all')
      .addOption(
        new Option(
          '--notes <how many>',
          'notes under the table (default: few in text, else all)',
        ).choices(NOTE_LEVELS),
      )
      .addOption(
        new Option(
          '--format <form>',
          'form of the table (default: by the file, else text)',
        ).choices(FORMATS),
      )
      .addOption(decimalOption('the decimal sign in CSV, if not that of the ledger')),
  );
}

/** The decimal sign of tables for a spreadsheet. */
export function decimalOption(description: string): Option {
  return new Option('--decimal <sign>', description).choices(['point', 'comma']);
}

/** How sure. */
export function withConfidence(command: Command): Command {
  return command.addOption(
    new Option('--confidence <percent>', 'of every interval')
      .argParser(parseConfidence)
      .default(CONFIDENCE, String(100 * CONFIDENCE)),
  );
}

/** Where to. */
export function withFile(command: Command): Command {
  return command.addOption(fileOption('--output <file>', 'write to a file instead of the screen'));
}

/** The name of a file to write; one that looks like an option is a slip more likely than a name. */
export function fileOption(flags: string, description: string): Option {
  return new Option(flags, description).argParser((name: string) => {
    if (!name.startsWith('-')) return name;
    throw new InvalidArgumentError(`A file of that name is written as ./${name}.`);
  });
}

export function repeatable<Value>(
  flags: string,
  description: string,
  parse: (text: string) => Value,
) {
  return new Option(flags, `${description} (repeatable)`)
    .argParser((text: string, before: readonly Value[]) => [...before, parse(text)])
    .default([], 'all');
}

/** The same where only some words will do, which completions offer. */
export function repeatableWords<Word extends string>(
  flags: string,
  description: string,
  words: readonly Word[],
  otherwise = 'all',
) {
  // choices() parses too, and would keep only the word that was given last.
  return repeatable(flags, description, String)
    .choices(words)
    .argParser((text: string, before: readonly Word[]) => {
      const word = words.find((one) => one === text);
      if (word === undefined) throw new InvalidArgumentError(`Write ${words.join(', ')}.`);
      return [...before, word];
    })
    .default([], otherwise);
}

/** Words with commas between; a list goes on where the option is given again. */
export function commaWords(flags: string, description: string, otherwise: string): Option {
  return new Option(flags, `${description}, with commas between`)
    .argParser((text: string, before: readonly string[]) => {
      const words = text.split(',').map((word) => word.trim());
      return [...before, ...words.filter((word) => word !== '')];
    })
    .default([], otherwise);
}

export function parseSeasons(text: string): readonly number[] {
  const found = /^(\d{4})(?:\.\.(\d{4}))?$/.exec(text);
  const first = Number(found?.[1]);
  const last = Number(found?.[2] ?? first);
  if (found === null || last < first || last - first > 200) {
    throw new InvalidArgumentError('Write a year, as 2026, or a span, as 2024..2026.');
  }
  return Array.from({ length: last - first + 1 }, (_, index) => first + index);
}

function parseBy(text: string, before: readonly By[]): readonly By[] {
  const words = text.split(',').map((word) => word.trim());
  const unknown = words.find((word) => !(BYS as readonly string[]).includes(word));
  if (unknown !== undefined) {
    throw new InvalidArgumentError(`Rows are ${BYS.join(', ')}, or several with commas.`);
  }
  return [...before, ...(words as By[])];
}

export function parseCount(text: string): number {
  if (!/^[1-9]\d{0,5}$/.test(text)) throw new InvalidArgumentError('Write a whole number from 1.');
  return Number(text);
}

export function parseDate(text: string): IsoDate {
  const date = parseIsoDate(text);
  if (date === undefined)
    throw new InvalidArgumentError('Write a date as YYYY-MM-DD, such as 2026-09-05.');
  return date;
}

function parseSeed(text: string): number {
  if (/^\d{1,15}$/.test(text)) return Number(text);
  throw new InvalidArgumentError('Write a whole number of at most 15 digits.');
}

function parseConfidence(text: string): number {
  const percent = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (!(percent >= 50 && percent <= 99.9)) {
    throw new InvalidArgumentError('Write a percentage from 50 to 99.9, as 90 or 95.');
  }
  return percent / 100;
}

/** A page or a figure in the light, in the dark, as the reader's screen asks for it, or without a ground. */
export function groundOption(description: string): Option {
  return new Option('--ground <tone>', description).choices(GROUNDS).default('auto');
}

/** How sure, in which form, and where to, for what is not a single table. */
export function withDocumentOutput(command: Command): Command {
  const asked = withConfidence(command)
    .addOption(
      new Option('--format <form>', 'form of the page (default: by the file, else text)').choices(
        DOCUMENT_FORMATS,
      ),
    )
    .addOption(groundOption('what a page of HTML stands on'));
  return withFile(asked);
}

export function countOption(flags: string, description: string, usual: number): Option {
  return new Option(flags, description).argParser(parseCount).default(usual);
}
