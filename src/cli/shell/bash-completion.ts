import type { ArgumentOutline, OptionOutline, ProgramOutline } from './outline.ts';
import { LEDGER_KINDS } from './outline.ts';

/** A script that teaches bash (3.2 or later) to complete the command line. */
export function bashCompletion({ name, options, commands }: ProgramOutline): string {
  const values = [
    ...options.map((option) => valueCase('*', option)),
    ...commands.flatMap((command) =>
      command.options.map((option) => valueCase(quoted(command.name), option)),
    ),
  ].filter((line) => line !== '');
  const everywhere = options.flatMap(flagsOf);
  const flags = commands.map((command) => {
    const own = command.options.flatMap(flagsOf);
    return `    ${quoted(command.name)}) echo ${quoted([...new Set([...own, ...everywhere])].join(' '))} ;;`;
  });
  const places = commands.flatMap((command) =>
    command.arguments.flatMap((argument, place) => {
      const kind = kindWord(argument);
      return kind === ''
        ? []
        : [`    ${quoted(`${command.name} ${place}`)}) echo ${quoted(kind)} ;;`];
    }),
  );
  return `# Completion of ${name} for bash. To load it: source <(${name} completion bash)

# What the value of an option is; nothing where it takes none.
_${name}_value() { # command option
  case "$1 $2" in
${values.join('\n')}
  esac
}

# What an argument is. The first has place 0.
_${name}_argument() { # command place
  case "$1 $2" in
${places.join('\n')}
  esac
}

_${name}_flags() { # command
  case "$1" in
${flags.join('\n')}
    *) echo ${quoted(everywhere.join(' '))} ;;
  esac
}

# Offers the lines of standard input that begin with what was typed. Names from a ledger are never
# expanded as words of the shell.
_${name}_offer() { # typed
  local word
  while IFS= read -r word; do
    word=\${word%%$'\\t'*}
    if [[ -n $word && $word == "$1"* ]]; then
      COMPREPLY+=("$(printf '%q' "$word")")
    fi
  done
}

_${name}() {
  local typed=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD - 1]}
  local word command='' place=0 kind='' i
  local -a ledger
  ledger=()
  COMPREPLY=()
  if [[ $typed == '=' ]]; then
    typed=''
  elif [[ $before == '=' ]]; then
    before=\${COMP_WORDS[COMP_CWORD - 2]}
  fi
  for ((i = 1; i < COMP_CWORD; i++)); do
    word=\${COMP_WORDS[i]}
    if [[ $word == -* ]]; then
      if [[ -n $(_${name}_value "$command" "$word") ]]; then
        i=$((i + 1))
        [[ \${COMP_WORDS[i]} == '=' ]] && i=$((i + 1))
        [[ $word == --ledger ]] && ledger=(--ledger "\${COMP_WORDS[i]}")
      fi
    elif [[ -z $command ]]; then
      command=$word
    else
      place=$((place + 1))
    fi
  done
  if [[ $before == -* ]]; then
    kind=$(_${name}_value "$command" "$before")
  fi
  if [[ -z $kind && $typed == -* ]]; then
    _${name}_offer "$typed" < <(_${name}_flags "$command" | tr ' ' '\\n')
    return
  fi
  if [[ -z $kind && -z $command ]]; then
    kind=command
  elif [[ -z $kind ]]; then
    kind=$(_${name}_argument "$command" "$place")
  fi
  case $kind in
    '' | other) ;;
    command) _${name}_offer "$typed" < <(printf '%s\\n' ${commands.map((one) => one.name).join(' ')}) ;;
    file | folder)
      # Bash quotes names of files itself, and puts a slash behind folders.
      compopt -o filenames 2>/dev/null
      while IFS= read -r word; do COMPREPLY+=("$word"); done < <(
        if [[ $kind == file ]]; then compgen -f -- "$typed"; else compgen -d -- "$typed"; fi
      )
      ;;
    ${LEDGER_KINDS.join(' | ')})
      _${name}_offer "$typed" < <(${name} \${ledger[@]+"\${ledger[@]}"} complete "$kind" 2>/dev/null)
      ;;
    *) _${name}_offer "$typed" < <(tr ' ' '\\n' <<<"$kind") ;;
  esac
}

complete -o nosort -F _${name} ${name} 2>/dev/null || complete -F _${name} ${name}
`;
}

function valueCase(command: string, option: OptionOutline): string {
  const kind = option.kind === 'none' ? '' : kindWord(option);
  const patterns = flagsOf(option).map((flag) =>
    command === '*' ? `*' ${flag}'` : quoted(`${command.slice(1, -1)} ${flag}`),
  );
  return kind === '' ? '' : `    ${patterns.join(' | ')}) echo ${quoted(kind)} ;;`;
}

function kindWord({ kind, choices }: OptionOutline | ArgumentOutline): string {
  return kind === 'choice' ? choices.join(' ') : kind;
}

function flagsOf({ long, short }: OptionOutline): readonly string[] {
  return [short, long].filter((flag) => flag !== undefined && flag !== '') as string[];
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
