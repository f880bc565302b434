import type { ProblemCodeEntry } from '../src/records/codes/problem-code-entry.js';
import { table } from './render-command-page.js';

/** The page docs/problem-codes.md: the codes by family, and the exit codes they lead to. */
export function renderProblemCodes(
  codes: Readonly<Record<string, ProblemCodeEntry>>,
  exits: readonly { readonly code: number; readonly meaning: string }[],
): string {
  const families = new Map<string, [string, ProblemCodeEntry][]>();
  for (const [code, entry] of Object.entries(codes)) {
    const family = code.split('-')[0] ?? code;
    families.set(family, [...(families.get(family) ?? []), [code, entry]]);
  }
  const parts = [
    '# Problem codes and exit codes',
    'This page is generated from the code tables by `npm run docs`; edit the tables, not the page.',
    'A code stands in brackets at the end of a message. Codes are stable: scripts may rely on them. As an error, a problem leads to the exit code shown; as a warning it is written down and leads to none.',
    '## Exit codes',
    table(
      ['exit', 'meaning'],
      exits.map((exit) => [String(exit.code), exit.meaning]),
    ),
    ...[...families]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .flatMap(([family, entries]) => [
        `## ${family}`,
        table(
          ['code', 'exit', 'meaning', 'what mends it'],
          entries.map(([code, entry]) => [`\`${code}\``, String(entry.exit), entry.meaning, entry.fix]),
        ),
      ]),
  ];
  return `${parts.join('\n\n')}\n`;
}
