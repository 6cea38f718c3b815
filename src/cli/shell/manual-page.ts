import type { CommandOutline, OptionOutline, ProgramOutline } from './outline.ts';

/** The manual page in the man macros of roff, for `man -l` or a folder of manual pages. */
export function manualPage(outline: ProgramOutline, version: string): string {
  const { name, description, options, commands } = outline;
  const [first = '', ...rest] = description.split('\n');
  const groups = [...new Set(commands.map(({ group }) => group))];
  const lines = [
    `.TH ${name.toUpperCase()} 1 "" "${name} ${version}" "User Commands"`,
    '.SH NAME',
    `${name} \\- ${plain(first.replace(/\.$/, '').replace(/^A /, 'a '))}`,
    '.SH SYNOPSIS',
    `.B ${name}`,
    `[\\fB\\-\\-ledger\\fR \\fIdir\\fR] \\fIcommand\\fR [\\fIoptions\\fR]`,
    '.SH DESCRIPTION',
    ...paragraphs([first, ...rest].join(' ')),
    '.SH OPTIONS',
    ...options.flatMap(optionLines),
    ...groups.flatMap((group) => [
      `.SH ${plain(group.toUpperCase())}`,
      ...commands.filter((one) => one.group === group).flatMap((one) => commandLines(name, one)),
    ]),
    '.SH FILES',
    ...FILES.flatMap(([file, what]) => item(`\\fI${plain(file)}\\fR`, what)),
    '.SH EXIT STATUS',
    ...STATUS.flatMap(([status, what]) => item(`\\fB${status}\\fR`, what)),
    '.SH ENVIRONMENT',
    ...ENVIRONMENT.flatMap(([variable, what]) => item(`\\fB${plain(variable)}\\fR`, what)),
  ];
  return `${lines.join('\n')}\n`;
}

const FILES = [
  ['ledger.yaml', 'the trial: place, scale, tasters, sites, how the rank is weighed'],
  ['cultivars.yaml', 'what is being compared'],
  ['trees.yaml', 'each tree: which cultivar, from where, where it stands'],
  ['seasons/YEAR.yaml', 'what was seen that year'],
  ['weather/YEAR.csv', 'daily temperatures and rain, where they are known'],
] as const;

const STATUS = [
  ['0', 'Done.'],
  ['1', 'The ledger has errors; they were shown, and nothing was computed from them.'],
  ['2', 'The command line is wrong.'],
  ['3', 'A file could not be read or written.'],
  ['70', 'A fault of the program itself.'],
] as const;

const ENVIRONMENT = [
  ['NO_COLOR', 'No colour, if it is set and not empty.'],
  ['FORCE_COLOR', 'Colour where there would be none: 1, 2 or 3 for more of it, 0 for none.'],
  ['COLUMNS', 'Width that tables are fitted to, instead of that of the terminal.'],
  ['POMARY_DEBUG', 'With 1, a fault of the program is told with its trace.'],
] as const;

function commandLines(name: string, command: CommandOutline): readonly string[] {
  const places = command.arguments.map((argument) =>
    argument.isRequired ? `\\fI${plain(argument.name)}\\fR` : `[\\fI${plain(argument.name)}\\fR]`,
  );
  const options = command.options.length === 0 ? [] : ['[\\fIoptions\\fR]'];
  const [heading, ...examples] = command.after.split('\n').filter((line) => line.trim() !== '');
  return [
    `.SS "${[name, command.name].map(plain).join(' ')}"`,
    `\\fB${plain(`${name} ${command.name}`)}\\fR ${[...options, ...places].join(' ')}`,
    '.PP',
    ...paragraphs(command.description),
    ...command.arguments.flatMap(({ name: word, description }) =>
      description === '' ? [] : item(`\\fI${plain(word)}\\fR`, description),
    ),
    ...command.options.flatMap(optionLines),
    ...(heading === undefined
      ? []
      : ['.PP', text(heading), '.PP', '.nf', ...examples.map((line) => text(line)), '.fi']),
  ];
}

function optionLines({ long, short, value, description, choices, usual }: OptionOutline) {
  const flags = [short, long].filter((flag) => flag !== undefined && flag !== '');
  const takes = value === undefined ? '' : ` \\fI${plain(value)}\\fR`;
  const more = [
    choices.length === 0 ? '' : `one of ${choices.join(', ')}`,
    usual === undefined ? '' : `if left out: ${usual}`,
  ].filter((part) => part !== '');
  const words = more.length === 0 ? description : `${description} (${more.join('; ')})`;
  return item(`${flags.map((flag) => `\\fB${plain(flag ?? '')}\\fR`).join(', ')}${takes}`, words);
}

function item(head: string, words: string): readonly string[] {
  return ['.TP', head, ...paragraphs(words)];
}

function paragraphs(words: string): readonly string[] {
  return words.trim() === '' ? [] : [text(words)];
}

/** A line of running text, which must not begin as a request does. */
function text(line: string): string {
  const escaped = plain(line);
  return /^['.]/.test(escaped) ? `\\&${escaped}` : escaped;
}

/** Backslashes, hyphens and quotes that stay what they are. */
function plain(words: string): string {
  return words
    .replaceAll('\\', '\\e')
    .replaceAll('-', '\\-')
    .replaceAll("'", '\\(aq')
    .replaceAll('"', '\\(dq');
}
