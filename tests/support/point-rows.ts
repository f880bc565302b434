import type { RunResult } from './run-in-process.js';

/** The rows of CSV output by column; cells here hold no commas. */
export function pointRows({ stdout }: Pick<RunResult, 'stdout'>): readonly Readonly<Record<string, string>>[] {
  const [head = [], ...rows] = stdout
    .toString()
    .trimEnd()
    .split('\n')
    .map((line) => line.split(','));
  return rows.map((cells) => Object.fromEntries(head.map((name, index) => [name, cells[index] ?? ''])));
}
