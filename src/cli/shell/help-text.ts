import type { CommandSpec } from './command-spec.js';

/** The examples that open a command's help. */
export function exampleHelp(spec: CommandSpec): string {
  const lines: string[] = ['Examples:'];
  for (const example of spec.examples) {
    lines.push(`  # ${example.about}`, `  ${example.command}`);
    for (const line of example.output ?? []) lines.push(`  ${line}`);
  }
  return lines.join('\n');
}
