import { gravestAnswer } from '../../../core/quality/gravest-answer.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { LargestFigure, RunSummary } from '../../../records/runs/run-summary.js';
import type { EntryState } from './judge-entry.js';

/** An entry of a manifest as it stands. */
export interface StoodEntry {
  readonly state: EntryState;
  /** Name of its output, for figures that it holds. */
  readonly output: string;
  /** Null: there is no record. */
  readonly run: FinishedRun | null;
}

/** Rows of all inputs. */
export interface RowCounts {
  readonly read: number;
  readonly used: number;
  readonly rejected: number;
}

/** What the entries of a manifest make together. Rows, verdicts, problems and figures are of the entries that are done: no other has results that hold. */
export interface RollUp {
  readonly states: ReadonlyMap<EntryState, number>;
  readonly rows: RowCounts;
  readonly problems: ReadonlyMap<string, number>;
  /** `no` also where any entry is not done; reasons count such entries. */
  readonly answer: RunAnswer;
  /** Null where a run that is done does not say what it was about. */
  readonly summary: RunSummary | null;
}

const STATES: readonly EntryState[] = ['done', 'failed', 'changed', 'not-run'];

/** What an entry that is not done counts as. */
const UNDONE = {
  failed: 'manifest-entry-failed',
  changed: 'manifest-entry-changed',
  'not-run': 'manifest-entry-not-run',
} as const;

/** Adds the entries of a manifest up. */
export function rollUp(entries: readonly StoodEntry[]): RollUp {
  const states = new Map(STATES.map((state) => [state, entries.filter((entry) => entry.state === state).length]));
  const done = entries.flatMap(({ state, run, output }) => (state === 'done' && run !== null ? [{ run, output }] : []));
  const runs = done.map(({ run }) => run);
  const isWhole = done.length === entries.length;
  const undone = [...states].flatMap(([state, count]): readonly (readonly [string, number])[] =>
    state === 'done' || count === 0 ? [] : [[UNDONE[state], count]],
  );
  return {
    states,
    rows: rowsOf(runs),
    problems: inOrder(summed(runs.map(({ problems }) => problems))),
    answer: {
      answer: isWhole ? gravestAnswer(runs.map(({ answer }) => answer)) : 'no',
      verdicts: summed(runs.map(({ verdictCounts }) => verdictCounts)),
      reasons: inOrder(summed([...runs.map(({ reasonCounts }) => reasonCounts), new Map(undone)])),
    },
    summary: summaryOf(done),
  };
}

/** Rows of all inputs of runs. */
export function rowsOf(runs: readonly FinishedRun[]): RowCounts {
  const rows = { read: 0, used: 0, rejected: 0 };
  for (const { rowsRead, rowsUsed, rowsRejected } of runs.flatMap(({ inputs }) => inputs)) {
    rows.read += rowsRead;
    rows.used += rowsUsed;
    rows.rejected += rowsRejected;
  }
  return rows;
}

function summaryOf(done: readonly { readonly run: FinishedRun; readonly output: string }[]): RunSummary | null {
  const told = done.flatMap(({ run, output }) => (run.summary === null ? [] : [{ summary: run.summary, output }]));
  if (told.length < done.length || told.length === 0) return null;
  const largest = new Map<string, LargestFigure>();
  let points = 0;
  let firstEpochMs: number | null = null;
  let lastEpochMs: number | null = null;
  for (const { summary, output } of told) {
    points += summary.points;
    for (const { figure, value, at } of summary.largest)
      if (value > (largest.get(figure)?.value ?? -Infinity))
        largest.set(figure, { figure, value, at: `${output}: ${at}` });
    if (summary.firstEpochMs !== null) firstEpochMs = Math.min(firstEpochMs ?? Infinity, summary.firstEpochMs);
    if (summary.lastEpochMs !== null) lastEpochMs = Math.max(lastEpochMs ?? -Infinity, summary.lastEpochMs);
  }
  const bases = [...new Set(told.flatMap(({ summary }) => summary.bases))];
  return { title: '', points, firstEpochMs, lastEpochMs, bases, largest: [...largest.values()] };
}

function summed(counts: readonly ReadonlyMap<string, number>[]): ReadonlyMap<string, number> {
  const sum = new Map<string, number>();
  for (const part of counts) for (const [word, count] of part) sum.set(word, (sum.get(word) ?? 0) + count);
  return sum;
}

function inOrder(counts: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  return new Map([...counts].sort(([a], [b]) => (a < b ? -1 : 1)));
}
