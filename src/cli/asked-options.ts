import { Command, InvalidArgumentError, type Option } from 'commander';
import { didYouMean } from '../diagnostics/did-you-mean.ts';
import { UsageError } from './exit.ts';
import type { Host } from './host.ts';
import { whatToType } from './plain-complaint.ts';

/**
 * The options of a command as a program asks for them: by name, in camel case. They are those of the
 * command line, with the same values left out and the same ones refused. A switch takes true or
 * false; an option that may be repeated takes one value or a list.
 *
 * @param asked throws a `UsageError` for a word that is no option, or a value that it does not take
 * @param elsewhere options that say what is not asked here, such as the name of a file
 */
export function askedOptions<Options extends object>(
  host: Host,
  add: AddCommand,
  asked: object,
  elsewhere: readonly string[] = [],
): Options {
  const options = optionsOf(host, add);
  const known = options.filter(
    (option) => !option.hidden && !elsewhere.includes(option.attributeName()),
  );
  const given = new Map(options.map((option) => [option.attributeName(), usual(option)]));
  for (const [word, value] of Object.entries(asked)) {
    const option = known.find((one) => one.attributeName() === word);
    if (option === undefined) throw noSuch(word, known);
    if (value !== undefined) given.set(word, valueFor(option, value));
  }
  return Object.fromEntries([...given].filter(([, value]) => value !== undefined)) as Options;
}

/** Makes a command in a program. */
export type AddCommand = (program: Command, host: Host) => void;

function optionsOf(host: Host, add: AddCommand): readonly Option[] {
  const program = new Command();
  add(program, host);
  return program.commands.flatMap((command) => command.options);
}

/** What commander takes where an option is left out. */
function usual(option: Option): unknown {
  return option.negate ? true : option.defaultValue;
}

/** A word that nobody knows would otherwise ask for everything, and look like an answer. */
function noSuch(word: string, known: readonly Option[]): UsageError {
  const nearest = didYouMean(
    word,
    known.map((option) => option.attributeName()),
  );
  const hint = nearest === undefined ? '' : `; did you mean ${nearest}?`;
  return new UsageError(`${word}: no such option${hint}`);
}

function valueFor(option: Option, value: unknown): unknown {
  const word = option.attributeName();
  if (!option.required && !option.optional) {
    if (typeof value === 'boolean') return value;
    throw new UsageError(`${word} ${shown(value)}: true or false`);
  }
  const values: readonly unknown[] = Array.isArray(value) ? value : [value];
  const isList = Array.isArray(option.defaultValue);
  if (!isList && values.length !== 1) throw new UsageError(`${word}: takes one value, not a list`);
  return values.reduce((before, one) => parsed(option, one, before), option.defaultValue);
}

function parsed(option: Option, value: unknown, before: unknown): unknown {
  const word = option.attributeName();
  if (typeof value !== 'string' && typeof value !== 'number') {
    throw new UsageError(`${word} ${shown(value)}: takes text or a number`);
  }
  try {
    return option.parseArg === undefined ? String(value) : option.parseArg(String(value), before);
  } catch (thrown) {
    if (!(thrown instanceof InvalidArgumentError)) throw thrown;
    throw new UsageError(`${word} ${value}: ${whatToType(thrown.message)}`);
  }
}

function shown(value: unknown): string {
  return typeof value === 'object' && value !== null ? 'as it is given' : String(value);
}
