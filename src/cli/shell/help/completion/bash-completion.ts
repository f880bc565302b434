import { pushAll } from '../../../../core/numeric/push-all.js';
import type { CommandModel, CompletionModel, OptionModel, ValueModel } from './completion-model.js';

/** The completion script for bash 3.2 and later: source it from ~/.bashrc. */
export function bashCompletion(model: CompletionModel): string {
  const commands = model.commands.map((command) => command.name);
  return `# ${model.program} completion for bash. Use it with:
#   source <(${model.program} completion bash)
_${model.program}_words() {
  local IFS=$'\\n'
  COMPREPLY=($(compgen -W "$1" -- "$2"))
}

_${model.program}() {
  local current previous command i
  COMPREPLY=()
  current=\${COMP_WORDS[COMP_CWORD]}
  previous=\${COMP_WORDS[COMP_CWORD-1]}
  if [ "$current" = '=' ]; then
    current=''
  elif [ "$previous" = '=' ] && [ "$COMP_CWORD" -ge 2 ]; then
    previous=\${COMP_WORDS[COMP_CWORD-2]}
  fi
  command=''
  for ((i = 1; i < COMP_CWORD; i++)); do
    case "\${COMP_WORDS[i]}" in
      -*) ;;
      *) command=\${COMP_WORDS[i]}; break ;;
    esac
  done
  case "$command" in
    '')
      ${offer(model.program, [...commands, ...optionWords(model.options)])}
      ;;
${model.commands.map((command) => commandCase(model.program, command)).join('\n')}
  esac
}

# Where the function offers nothing, bash completes file names.
complete -o bashdefault -o default -F _${model.program} ${model.program}
`;
}

function commandCase(program: string, command: CommandModel): string {
  const values = command.options.flatMap((option) =>
    option.value === null ? [] : [valueCase(program, option, option.value)],
  );
  const lines: string[] = [`    ${command.name})`];
  if (values.length > 0) pushAll(lines, ['      case "$previous" in', ...values, '      esac']);
  if (command.options.length > 0) {
    lines.push(
      '      case "$current" in',
      `        -*) ${offer(program, optionWords(command.options))}; return ;;`,
      '      esac',
    );
  }
  if (command.argument?.kind === 'words') lines.push(`      ${offer(program, command.argument.words)}`);
  lines.push('      ;;');
  return lines.join('\n');
}

function valueCase(program: string, option: OptionModel, value: ValueModel): string {
  const pattern = optionWords([option]).join('|');
  const action = value.kind === 'words' ? `${offer(program, value.words)}; return` : 'return';
  return `        ${pattern}) ${action} ;;`;
}

function optionWords(options: readonly OptionModel[]): readonly string[] {
  return options.flatMap((option) =>
    option.short === null ? [`--${option.long}`] : [`-${option.short}`, `--${option.long}`],
  );
}

function offer(program: string, words: readonly string[]): string {
  return `_${program}_words $'${words.map((word) => word.replaceAll(/['\\]/g, '\\$&')).join('\\n')}' "$current"`;
}
