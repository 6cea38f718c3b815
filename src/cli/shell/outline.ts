import type { Argument, Command, Option } from 'commander';

/** The command line in plain values, for what is generated from it: completions, the manual page. */
export interface ProgramOutline {
  readonly name: string;
  readonly description: string;
  /** Options that may stand anywhere. */
  readonly options: readonly OptionOutline[];
  readonly commands: readonly CommandOutline[];
}

export interface CommandOutline {
  readonly name: string;
  /** Heading that it stands under in the help, without a colon. */
  readonly group: string;
  readonly description: string;
  readonly arguments: readonly ArgumentOutline[];
  readonly options: readonly OptionOutline[];
  /** What the help says at its end, such as examples. */
  readonly after: string;
}

export interface OptionOutline {
  readonly long: string;
  readonly short: string | undefined;
  /** As it is named in the help; undefined where the option takes none. */
  readonly value: string | undefined;
  readonly description: string;
  readonly kind: ValueKind;
  /** What may be written, where that is fixed. */
  readonly choices: readonly string[];
  /** What counts where it is left out, as the help says it. */
  readonly usual: string | undefined;
}

export interface ArgumentOutline {
  readonly name: string;
  readonly isRequired: boolean;
  readonly description: string;
  readonly kind: ValueKind;
  readonly choices: readonly string[];
}

/** What a value stands for; those of `LEDGER_KINDS` are found in the ledger. */
export type ValueKind = LedgerKind | 'none' | 'choice' | 'file' | 'folder' | 'command' | 'other';

export const LEDGER_KINDS = [
  'cultivar',
  'tree',
  'site',
  'season',
  'crop',
  'taster',
  'trait',
] as const;
export type LedgerKind = (typeof LEDGER_KINDS)[number];

/** Everything that the help shows, in its order. */
export function outlineOf(program: Command): ProgramOutline {
  const commands = program.createHelp().visibleCommands(program);
  return {
    name: program.name(),
    description: program.description(),
    options: optionsOf(program),
    commands: commands.map((command) => ({
      name: command.name(),
      group: (command.helpGroup() || 'Help:').replace(/:$/, ''),
      description: command.description(),
      arguments: command.registeredArguments.map(argumentOutline),
      options: command.name() === 'help' ? [] : optionsOf(command),
      after: afterHelp(command),
    })),
  };
}

function optionsOf(command: Command): readonly OptionOutline[] {
  return command.createHelp().visibleOptions(command).map(optionOutline);
}

function optionOutline(option: Option): OptionOutline {
  const takes = option.required || option.optional;
  const usual = option.defaultValueDescription ?? option.defaultValue;
  return {
    long: option.long ?? '',
    short: option.short,
    value: takes ? /[<[]([^>\]]+)[>\]]/.exec(option.flags)?.[1] : undefined,
    description: option.description,
    kind: takes ? kindOf(option.long?.slice(2) ?? '', option.argChoices) : 'none',
    choices: option.argChoices ?? [],
    usual: usual === undefined || usual === false ? undefined : String(usual),
  };
}

function argumentOutline(argument: Argument): ArgumentOutline {
  const name = argument.name();
  return {
    name,
    isRequired: argument.required,
    description: argument.description,
    kind: kindOf(name, argument.argChoices),
    choices: argument.argChoices ?? [],
  };
}

/** The same word means the same thing everywhere on the command line. */
const KINDS: Readonly<Record<string, ValueKind>> = {
  ...Object.fromEntries(LEDGER_KINDS.map((kind) => [kind, kind])),
  against: 'season',
  a: 'cultivar',
  b: 'cultivar',
  candidates: 'cultivar',
  tasters: 'taster',
  command: 'command',
  ledger: 'folder',
  folder: 'folder',
  dir: 'folder',
  file: 'file',
  output: 'file',
  sheet: 'file',
};

function kindOf(word: string, choices: readonly string[] | undefined): ValueKind {
  return choices === undefined ? (KINDS[word.toLowerCase()] ?? 'other') : 'choice';
}

/** What `addHelpText('after', ...)` was given, which commander tells only by printing the help. */
function afterHelp(command: Command): string {
  const output = command.configureOutput();
  let printed = '';
  const writeOut = (text: string) => {
    printed += text;
  };
  command.configureOutput({ ...output, writeOut });
  command.outputHelp();
  command.configureOutput(output);
  const usual = command.helpInformation();
  return printed.slice(printed.indexOf(usual) + usual.length).trim();
}
