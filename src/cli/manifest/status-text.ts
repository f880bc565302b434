import { largestOf } from '../../core/numeric/extremes.js';
import { entryAt } from '../../records/present.js';
import type { StatusRow } from './status-columns.js';

const HEADS = ['entry', 'state', 'exit', 'output', ''] as const;

/** The entries that are not done, as an aligned table for people; empty where all are. */
export function statusText(rows: readonly StatusRow[]): string {
  const undone = rows.filter(({ state }) => state !== 'done');
  if (undone.length === 0) return '';
  const lines = [HEADS, ...undone.map(cellsOf)];
  const widths = HEADS.map((_, index) => largestOf(lines.map((cells) => entryAt(cells, index).length)));
  return lines
    .map((cells) =>
      cells
        .map((cell, index) =>
          index === 0 ? cell.padStart(entryAt(widths, index)) : cell.padEnd(entryAt(widths, index)),
        )
        .join('  ')
        .trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}

function cellsOf({ number, state, exitCode, output, problemCode, said }: StatusRow): readonly string[] {
  const code = problemCode === null ? '' : ` [${problemCode}]`;
  // Nothing to say: it was never run.
  return [String(number), state, exitCode === null ? '' : String(exitCode), output, `${said ?? ''}${code}`];
}
