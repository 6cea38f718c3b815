import type { ArgumentOutline, OptionOutline, ProgramOutline } from './outline.ts';
import { LEDGER_KINDS } from './outline.ts';

/** A script that teaches zsh to complete the command line. */
export function zshCompletion({ name, options, commands }: ProgramOutline): string {
  const cases = commands.map((command) => {
    const specs = [
      ...[...command.options, ...options.filter((one) => !isIn(one, command.options))].map(
        (option) => optionSpec(name, option),
      ),
      ...command.arguments.map((argument, place) => argumentSpec(name, argument, place)),
    ];
    return `    ${command.name})\n${argumentsCall(specs, '      ')}\n      ;;`;
  });
  return `#compdef ${name}
# Completion of ${name} for zsh. To load it: source <(${name} completion zsh)

_${name}_commands() {
  local -a commands
  commands=(
${commands.map((one) => `    ${quoted(`${one.name}:${one.description}`)}`).join('\n')}
  )
  _describe -t commands command commands
}

# Words of the ledger: ${LEDGER_KINDS.join(', ')}.
_${name}_words() {
  local kind=$1 line place
  local -a ledger found
  [[ -n $_${name}_ledger ]] && ledger=(--ledger $_${name}_ledger)
  for ((place = 1; place < CURRENT; place++)); do
    [[ $words[place] == --ledger ]] && ledger=(--ledger \${(Q)words[place + 1]})
    [[ $words[place] == --ledger=* ]] && ledger=(--ledger \${(Q)words[place]#--ledger=})
  done
  for line in "\${(@f)$(${name} $ledger complete $kind 2>/dev/null)}"; do
    [[ -n $line ]] && found+=("\${\${line%%$'\\t'*}//:/\\\\:}\${\${line#*$'\\t'}:+:\${line#*$'\\t'}}")
  done
  _describe -t $kind $kind found
}

_${name}() {
  local context state line _${name}_ledger
  typeset -A opt_args
${argumentsCall([...options.map((option) => optionSpec(name, option)), `'1:command:_${name}_commands'`, "'*::argument:->rest'"], '  ', "-C -A '-*' ")}
  [[ $state == rest ]] || return
  [[ -n \${opt_args[--ledger]} ]] && _${name}_ledger=\${(Q)opt_args[--ledger]}
  case $words[1] in
${cases.join('\n')}
  esac
}

if [[ \${funcstack[1]} == _${name} ]]; then
  _${name} "$@"
else
  compdef _${name} ${name}
fi
`;
}

function argumentsCall(specs: readonly string[], indent: string, flags = ''): string {
  return [`${indent}_arguments ${flags}-s -S`, ...specs].join(` \\\n${indent}  `);
}

function isIn(option: OptionOutline, options: readonly OptionOutline[]): boolean {
  return options.some(({ long }) => long === option.long);
}

function optionSpec(name: string, option: OptionOutline): string {
  const { long, short, value, description } = option;
  const repeat = /\(repeatable\)/.test(description) ? '*' : '';
  const text = `[${escaped(description)}]`;
  const takes = value === undefined ? '' : `:${escaped(value)}:${actionOf(name, option)}`;
  const equals = value === undefined ? '' : '=';
  const flags =
    short === undefined
      ? quoted(`${repeat}${long}${equals}${text}${takes}`)
      : `'(${short} ${long})'{${short},${long}${equals}}${quoted(`${text}${takes}`)}`;
  return flags;
}

function argumentSpec(name: string, argument: ArgumentOutline, place: number): string {
  const optional = argument.isRequired ? '' : ':';
  const message = escaped(argument.description || argument.name);
  return quoted(`${place + 1}:${optional}${message}:${actionOf(name, argument)}`);
}

function actionOf(name: string, { kind, choices }: OptionOutline | ArgumentOutline): string {
  switch (kind) {
    case 'choice':
      return `(${choices.join(' ')})`;
    case 'file':
      return '_files';
    case 'folder':
      return '_directories';
    case 'command':
      return `_${name}_commands`;
    case 'none':
    case 'other':
      return ' ';
    default:
      // Behind a blank, the call is made as it stands, without arguments for grouping put in.
      return ` _${name}_words ${kind}`;
  }
}

/** Text inside a specification, where brackets and colons mean something. */
function escaped(text: string): string {
  return text.replace(/[[\]:\\]/g, '\\$&');
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
