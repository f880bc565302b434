import { largestOf } from '../../../core/numeric/extremes.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt } from '../../../records/present.js';
import type { RunRow } from '../../../tasks/job/runs/run-row.js';

/** Columns of the table for people: its head, its cells, and whether they stand to the right. */
const SHOWN: readonly (readonly [string, (run: RunRow) => string, 'left' | 'right'])[] = [
  // An empty cell: the run is of no job.
  ['days', ({ days }) => days ?? '', 'left'],
  ['record', ({ record }) => record, 'left'],
  ['command', ({ command }) => command, 'left'],
  // An empty cell: the run has no points.
  ['points', ({ points }) => String(points ?? ''), 'right'],
  ['within', ({ within }) => String(within), 'right'],
  ['review', ({ review }) => String(review), 'right'],
  ['no', ({ no }) => String(no), 'right'],
  ['worst plan', (run) => worst(run, ['circle_95_m', 'horizontal_difference_m']), 'left'],
  ['worst height', (run) => worst(run, ['vertical_95_m', 'vertical_difference_m']), 'left'],
  ['bases', ({ bases }) => bases.join(' '), 'left'],
  ['version', ({ toolVersion }) => toolVersion, 'left'],
  ['verdict', ({ verdict }) => verdict, 'left'],
];

/** Runs as an aligned table for people. */
export function runsText(runs: readonly RunRow[]): string {
  const rows = [SHOWN.map(([head]) => head), ...runs.map((run) => SHOWN.map(([, cell]) => cell(run)))];
  const columns = SHOWN.map(([, , side], index) => {
    const cells = rows.map((row) => entryAt(row, index));
    const width = largestOf(cells.map(({ length }) => length));
    return cells.map((cell) => (side === 'right' ? cell.padStart(width) : cell.padEnd(width)));
  });
  return rows
    .map((_, line) =>
      columns
        .map((cells) => entryAt(cells, line))
        .join('  ')
        .trimEnd(),
    )
    .map((line) => `${line}\n`)
    .join('');
}

function worst({ largest }: RunRow, figures: readonly string[]): string {
  const found = largest.find(({ figure }) => figures.includes(figure));
  return found === undefined ? '' : `${formatFixed(found.value, 3)} m ${found.at}`;
}
