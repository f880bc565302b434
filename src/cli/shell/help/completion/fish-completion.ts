import type { CommandModel, CompletionModel, OptionModel, ValueModel } from './completion-model.js';

/** The completion script for fish: write it to ~/.config/fish/completions/pegbook.fish. */
export function fishCompletion(model: CompletionModel): string {
  const begin = `complete -c ${model.program}`;
  const lines = [
    `# ${model.program} completion for fish. Use it with:`,
    `#   ${model.program} completion fish | source`,
    `${begin} -f`,
    ...model.options.map((option) => `${begin} -n __fish_use_subcommand ${optionPart(option)}`),
    ...model.commands.map(
      (command) => `${begin} -n __fish_use_subcommand -a ${command.name} -d ${quoted(command.description)}`,
    ),
    ...model.commands.flatMap((command) => commandLines(begin, command)),
  ];
  return `${lines.join('\n')}\n`;
}

function commandLines(begin: string, command: CommandModel): readonly string[] {
  const condition = `-n ${quoted(`__fish_seen_subcommand_from ${command.name}`)}`;
  const argument =
    command.argument === null || command.argument.kind === 'free'
      ? []
      : [`${begin} ${condition} ${valuePart(command.argument)}`];
  return [...command.options.map((option) => `${begin} ${condition} ${optionPart(option)}`), ...argument];
}

function optionPart(option: OptionModel): string {
  const short = option.short === null ? '' : `-s ${option.short} `;
  const value = option.value === null ? '' : ` -r ${valuePart(option.value)}`;
  return `${short}-l ${option.long} -d ${quoted(option.description)}${value}`;
}

function valuePart(value: ValueModel): string {
  if (value.kind === 'file') return '-F';
  return value.kind === 'words' ? `-f -a ${quoted(value.words.join(' '))}` : '-f';
}

function quoted(text: string): string {
  return `'${text.replaceAll(/['\\]/g, '\\$&')}'`;
}
