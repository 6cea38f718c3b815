import type { ArgumentOutline, OptionOutline, ProgramOutline } from './outline.ts';

/** A script that teaches fish to complete the command line. */
export function fishCompletion({ name, options, commands }: ProgramOutline): string {
  const own = commands.flatMap((command) => {
    const when = `-n ${quoted(`__fish_seen_subcommand_from ${command.name}`)}`;
    return [
      ...command.options.map((option) => optionLine(name, option, when)),
      ...[...new Set(command.arguments.map((argument) => offer(name, argument)))]
        .filter((words) => words !== '')
        .map((words) => `complete -c ${name} ${when} ${words}`),
    ];
  });
  const offered = commands.map(
    ({ name: word, description }) =>
      `complete -c ${name} -n __fish_use_subcommand -a ${word} -d ${quoted(description)}`,
  );
  return `# Completion of ${name} for fish. To load it: ${name} completion fish | source

function __${name}_words
    set -l ledger
    set -l typed (commandline -opc)
    for i in (seq (count $typed))
        if test "$typed[$i]" = --ledger
            set ledger --ledger $typed[(math $i + 1)]
        else if string match -q -- '--ledger=*' $typed[$i]
            set ledger $typed[$i]
        end
    end
    ${name} $ledger complete $argv[1] 2>/dev/null
end

complete -c ${name} -f
${options.map((option) => optionLine(name, option, '')).join('\n')}
${offered.join('\n')}
${own.join('\n')}
`;
}

function optionLine(name: string, option: OptionOutline, when: string): string {
  const { long, short, description } = option;
  const parts = [
    `complete -c ${name}`,
    when,
    short === undefined ? '' : `-s ${short.slice(1)}`,
    `-l ${long.slice(2)}`,
    option.kind === 'none' ? '' : option.kind === 'file' ? '-r -F' : '-x',
    offer(name, option),
    `-d ${quoted(description)}`,
  ];
  return parts.filter((part) => part !== '').join(' ');
}

/** What is offered for a value. */
function offer(name: string, { kind, choices }: OptionOutline | ArgumentOutline): string {
  switch (kind) {
    case 'choice':
      return `-a ${quoted(choices.join(' '))}`;
    case 'file':
      return '-F';
    case 'folder':
      return "-a '(__fish_complete_directories)'";
    case 'command':
      return `-a ${quoted(`(complete -C '${name} ' | string match -rv '^-')`)}`;
    case 'none':
    case 'other':
      return '';
    default:
      return `-a '(__${name}_words ${kind})'`;
  }
}

function quoted(text: string): string {
  return `'${text.replaceAll('\\', '\\\\').replaceAll("'", "\\'")}'`;
}
