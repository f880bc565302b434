import { Option } from 'commander';
import type { CommandSpec, OptionSpec } from '../src/cli/shell/command-spec.js';

const HEAD = `// Made from the options of the commands (src/cli/commands/*/spec.ts) by \`npm run docs\`: change those, not this.
// Their types cannot be taken from the specifications themselves, because declarations are made file by file.

/** What each option of the command line holds where it is given, by the name under which it is read. */
export interface OptionValues {
`;

/** The type of the values of every option of the commands, by names in the order of the alphabet. */
export function renderOptionValues(commands: readonly CommandSpec[]): string {
  const types = new Map<string, Set<string>>();
  for (const option of commands.flatMap((spec) => spec.options)) {
    const name = new Option(option.flags).attributeName();
    const held = types.get(name) ?? new Set<string>();
    for (const type of typesOf(option)) held.add(type);
    types.set(name, held);
  }
  const lines = [...types].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, held]) => line(name, [...held]));
  return `${HEAD}${lines.join('\n')}\n}\n`;
}

function typesOf({ kind, choices }: OptionSpec): readonly string[] {
  switch (kind ?? 'text') {
    case 'flag':
      return ['boolean'];
    case 'number':
    case 'count':
      return ['number'];
    case 'list':
      return ['readonly string[]'];
    default:
      return choices === undefined ? ['string'] : choices.map((word) => `'${word}'`);
  }
}

/** As Prettier writes it, so that the file is the same before and after. */
function line(name: string, types: readonly string[]): string {
  // A word of several forms in different commands: the wider one holds the narrower.
  const shown = types.includes('string') ? types.filter((type) => !type.startsWith("'")) : types;
  const whole = `  readonly ${name}: ${shown.join(' | ')};`;
  return whole.length <= 120 ? whole : `  readonly ${name}:\n${shown.map((type) => `    | ${type}`).join('\n')};`;
}
