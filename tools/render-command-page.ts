import type { CommandSpec, OptionSpec } from '../src/cli/shell/command-spec.js';

/** The page docs/cli/<command>.md, from the command's specification. */
export function renderCommandPage(spec: CommandSpec, shared: ReadonlySet<string>): string {
  const own = spec.options.filter((option) => !shared.has(option.flags));
  const common = spec.options.filter((option) => shared.has(option.flags));
  const parts = [
    `# pegbook ${spec.name}`,
    'This page is generated from the command tree by `npm run docs`; edit the command, not the page.',
    sentence(spec.summary),
    spec.description.join('\n'),
    '## Usage',
    `    pegbook ${[spec.name, '[options]', ...spec.arguments.map((argument) => argument.name)].join(' ')}`,
    ...(spec.arguments.length === 0
      ? []
      : [
          table(
            ['argument', 'meaning'],
            spec.arguments.map((argument) => [`\`${argument.name}\``, argument.description]),
          ),
        ]),
    '## Examples',
    ...spec.examples.map(
      (example) =>
        `${sentence(example.about)}\n\n    ${[example.command, ...(example.output ?? [])].join('\n    ')}${example.exit === undefined ? '' : `\n\nExit code ${example.exit}.`}`,
    ),
    ...(own.length === 0 ? [] : ['## Options', optionTable(own)]),
    ...(common.length === 0 ? [] : ['## Options that many commands share', optionTable(common)]),
    ...(spec.cautions === undefined ? [] : ['## Cautions', spec.cautions.map((line) => `- ${line}`).join('\n')]),
  ];
  return `${parts.join('\n\n')}\n`;
}

function optionTable(options: readonly OptionSpec[]): string {
  return table(
    ['option', 'meaning', 'default'],
    options.map((option) => [`\`${option.flags}\``, option.description, option.defaultText ?? '']),
  );
}

/** A Markdown table; a bar inside a cell is escaped. */
export function table(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|').replaceAll('\n', ' ')).join(' | ')} |`;
  return [line(header), line(header.map(() => '---')), ...rows.map(line)].join('\n');
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.:?]$/.test(text) ? '' : '.'}`;
}
