import type { CommandModel, CompletionModel, OptionModel, ValueModel } from './completion-model.js';

/** The completion script for zsh: put it as _pegbook in a folder of $fpath, or source it. */
export function zshCompletion(model: CompletionModel): string {
  const name = model.program;
  return `#compdef ${name}
# ${name} completion for zsh. Write it to a folder of $fpath as _${name}, or use it with:
#   source <(${name} completion zsh)
_${name}() {
  local line state
  local -a commands
  commands=(
${model.commands.map((command) => `    ${quoted(`${escapedColons(command.name)}:${command.description}`)}`).join('\n')}
  )
  _arguments -C \\
${model.options.map((option) => `    ${optionSpec(option)} \\`).join('\n')}
    '1:command:->command' \\
    '*::argument:->argument'
  case $state in
    command) _describe -t commands command commands ;;
    argument)
      case $words[1] in
${model.commands.map(commandCase).join('\n')}
      esac
      ;;
  esac
}

if [ "$funcstack[1]" = "_${name}" ]; then
  _${name} "$@"
else
  compdef _${name} ${name}
fi
`;
}

function commandCase(command: CommandModel): string {
  const specs = command.options.map(optionSpec);
  if (command.argument !== null) specs.push(quoted(`*:argument:${action(command.argument)}`));
  const body =
    specs.length === 0
      ? '          _message "no arguments"'
      : `          _arguments \\\n${specs.map((spec) => `            ${spec}`).join(' \\\n')}`;
  return `        ${command.name})\n${body}\n          ;;`;
}

function optionSpec(option: OptionModel): string {
  const text = `[${option.description.replaceAll(/[[\]\\:]/g, '\\$&')}]${option.value === null ? '' : `:value:${action(option.value)}`}`;
  if (option.short === null) return quoted(`--${option.long}${text}`);
  const names = `-${option.short} --${option.long}`;
  return `${quoted(`(${names})`)}{-${option.short},--${option.long}}${quoted(text)}`;
}

function action(value: ValueModel): string {
  if (value.kind === 'file') return '_files';
  return value.kind === 'words' ? `(${value.words.join(' ')})` : ' ';
}

function escapedColons(text: string): string {
  return text.replaceAll(':', '\\:');
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "'\\''")}'`;
}
