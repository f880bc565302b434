import type { CommandSpec, OptionSpec } from '../src/cli/shell/command-spec.js';
import { ownOptions } from '../src/cli/shell/help/help-screen.js';
import { SHARED_GROUPS } from '../src/cli/shell/shared-options.js';

/** The page docs/cli/<command>.md, from the command's specification. */
export function renderCommandPage(spec: CommandSpec): string {
  const own = ownOptions(spec);
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
    ...sharedPart(spec),
    ...(spec.cautions === undefined ? [] : ['## Cautions', spec.cautions.map((line) => `- ${line}`).join('\n')]),
  ];
  return `${parts.join('\n\n')}\n`;
}

/** The page docs/shared-options.md: every option that many commands share, once. */
export function renderSharedOptions(): string {
  const parts = SHARED_GROUPS.flatMap(({ topic, title, options }) => [
    `## ${title}`,
    `\`pegbook help ${topic}\` prints them.`,
    optionTable(options),
  ]);
  return `${['# Options that many commands share', 'This page is generated from the command tree by `npm run docs`. The page of a command says which of them it has.', ...parts].join('\n\n')}\n`;
}

/** Which of the shared options a command has. */
function sharedPart(spec: CommandSpec): readonly string[] {
  const lines = SHARED_GROUPS.flatMap(({ title, options }) => {
    const had = options.filter(({ flags }) => spec.options.some((option) => option.flags === flags));
    const names = had.map(({ flags }) => `\`${/--[a-z0-9-]+/u.exec(flags)?.[0] ?? flags}\``).join(' ');
    const anchor = title.toLowerCase().replaceAll(',', '').replaceAll(' ', '-');
    return had.length === 0 ? [] : [`- [${title}](../shared-options.md#${anchor}): ${names}`];
  });
  return lines.length === 0 ? [] : ['## Options that many commands share', lines.join('\n')];
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
