import { type Command, InvalidArgumentError, Option } from 'commander';
import { amountWords, looksNumeric } from '../../writing/typed-number.ts';
import { UsageError } from '../exit.ts';

/** Options of every command that records one entry. */
export interface EntryOptions {
  readonly on: string;
  readonly note?: string;
}

export function withEntryOptions(command: Command): Command {
  return command
    .option('--on <date>', 'the day, as 2026-07-24, "24 Jul" or yesterday', 'today')
    .option('--note <text>', 'a note')
    .option('--dry-run', 'show what would change in the file, and write nothing', false);
}

/** For what may be true twice a day; of a sitting a mark stands once. */
export function againOption(command: Command): Command {
  return command.option('--again', 'write it once more, though the ledger has it already', false);
}

/** A typed line: the date, a statement and its words, and the note, which is always last. */
export function lineWords(
  options: EntryOptions,
  words: readonly (readonly string[])[],
): readonly string[] {
  const note = options.note?.trim();
  if (note === '') throw new UsageError('--note needs a text');
  const date = options.on.trim().split(/\s+/);
  return ['on', ...date, ...words.flat(), ...(note === undefined ? [] : ['note', note])];
}

/** One word of a line; a blank or a mark of a comment would make it something else. */
export function oneWord(name: string, text: string): string {
  if (text === '' || /\s/.test(text) || text.startsWith('#')) {
    throw new UsageError(`${name} "${text}": this must be one word`);
  }
  return text;
}

/** A word with the value of its option, if that was given. */
export function valued(word: string, value: string | number | undefined): readonly string[] {
  return value === undefined ? [] : [word, String(value)];
}

/** A whole number, which the reader of lines reads as it does any other number. */
export function wholeOption(flags: string, description: string): Option {
  return new Option(flags, description).argParser((text: string) => {
    if (!/^\d\S*$/.test(text)) throw new InvalidArgumentError('Write a whole number, 0 or more.');
    return text;
  });
}

/** A number, with or without its unit: 580, 1.5lb or "1.5 lb". */
export function parseAmount(text: string): string {
  const [amount, ...more] = amountWords(text);
  if (amount === undefined || more.length > 0 || !looksNumeric(amount)) {
    throw new InvalidArgumentError(
      'Write a number, or a number with its unit, as in 580 or 1.5lb.',
    );
  }
  return amount;
}

/** Several amounts with blanks or commas between. */
export function parseAmounts(text: string, before: readonly string[] = []): readonly string[] {
  const amounts = amountWords(text);
  if (amounts.length === 0 || !amounts.every(looksNumeric)) {
    throw new InvalidArgumentError('Write weights, as in 52.4,47,61.3 or "52.4 47 61.3".');
  }
  return [...before, ...amounts];
}
