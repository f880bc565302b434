import type { CommandModel, CompletionModel, OptionModel } from './completion-model.js';

/** The completion script for PowerShell 5.1 and later: run it from $PROFILE. */
export function powershellCompletion(model: CompletionModel): string {
  const root = table(
    [...model.commands.map((command): Pair => [command.name, command.description]), ...optionPairs(model.options)],
    6,
  );
  return `# ${model.program} completion for PowerShell. Use it with:
#   ${model.program} completion powershell | Out-String | Invoke-Expression
Register-ArgumentCompleter -Native -CommandName ${model.program} -ScriptBlock {
  param($wordToComplete, $commandAst, $cursorPosition)
  $offers = @{
    '' = [ordered]@{
${root}
    }
${model.commands.map((command) => `    ${quoted(command.name)} = [ordered]@{\n${table(commandPairs(command), 6)}\n    }`).join('\n')}
  }
  $values = @{
${model.commands.map((command) => `    ${quoted(command.name)} = @{\n${valueTable(command)}\n    }`).join('\n')}
  }
  $words = @($commandAst.CommandElements | Select-Object -Skip 1 | ForEach-Object { $_.ToString() })
  if ($wordToComplete -ne '' -and $words.Count -gt 0) { $words = @($words | Select-Object -SkipLast 1) }
  $command = [string]($words | Where-Object { $_ -notlike '-*' } | Select-Object -First 1)
  if (-not $offers.ContainsKey($command)) { return }
  $previous = [string]($words | Select-Object -Last 1)
  if ($command -ne '' -and $values[$command].ContainsKey($previous)) {
    $values[$command][$previous] | Where-Object { $_ -like "$wordToComplete*" } |
      ForEach-Object { [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_) }
    return
  }
  # Where nothing is offered, PowerShell completes file names.
  $offers[$command].GetEnumerator() |
    Where-Object { $_.Key -like "$wordToComplete*" -and ($wordToComplete -ne '' -or $_.Key -notlike '-*') } |
    ForEach-Object { [System.Management.Automation.CompletionResult]::new($_.Key, $_.Key, 'ParameterName', $_.Value) }
}
`;
}

type Pair = readonly [word: string, description: string];

function commandPairs(command: CommandModel): readonly Pair[] {
  const words = command.argument?.kind === 'words' ? command.argument.words : [];
  return [...words.map((word): Pair => [word, word]), ...optionPairs(command.options)];
}

// A table of PowerShell ignores case, so -v and -V cannot both be keys; short options are left out.
function optionPairs(options: readonly OptionModel[]): readonly Pair[] {
  return options.map((option) => [`--${option.long}`, option.description]);
}

function table(pairs: readonly Pair[], indent: number): string {
  return pairs.map(([word, description]) => `${' '.repeat(indent)}${quoted(word)} = ${quoted(description)}`).join('\n');
}

function valueTable(command: CommandModel): string {
  return command.options
    .flatMap((option) => {
      const value = option.value;
      if (value === null) return [];
      const words = value.kind === 'words' ? value.words.map(quoted).join(', ') : '';
      const names = option.short === null ? [`--${option.long}`] : [`--${option.long}`, `-${option.short}`];
      return names.map((name) => `      ${quoted(name)} = @(${words})`);
    })
    .join('\n');
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
