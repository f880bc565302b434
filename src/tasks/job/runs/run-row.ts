import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import type { LargestFigure } from '../../../records/runs/run-summary.js';

/** One run as a line of a table over runs. */
export interface RunRow {
  readonly record: string;
  readonly command: string;
  /** First and last day, `2026-03-04` or `2026-03-04/2026-03-06`; null: no times are stated. */
  readonly days: string | null;
  readonly title: string;
  readonly verdict: FinishedRun['verdict'];
  /** Null: the record does not say. */
  readonly points: number | null;
  readonly within: number;
  readonly review: number;
  readonly no: number;
  readonly reasons: readonly string[];
  readonly largest: readonly LargestFigure[];
  readonly bases: readonly string[];
  readonly toolVersion: string;
  readonly exitCode: number;
  readonly sha256: string;
}

/** Words of verdicts that mean one of the three states; a plan's places are within or outside its limits. */
const WITHIN: readonly string[] = ['within', 'accepted'];
const NO: readonly string[] = ['no', 'rejected', 'outside'];
/** Of `2026-03-04`. */
const DATE_LENGTH = 10;

/**
 * A run record as a line of a table over runs.
 * Given: the record; its SHA-256. Days are those of UTC.
 */
export function runRow(run: FinishedRun, sha256: string): RunRow {
  const counted = (words: readonly string[]): number =>
    words.reduce((sum, word) => sum + (run.verdictCounts.get(word) ?? 0), 0);
  const { summary } = run;
  return {
    record: run.source,
    // A record without words is of no command.
    command: run.argv[0] ?? '',
    days: daysOf(summary?.firstEpochMs ?? null, summary?.lastEpochMs ?? null),
    // A record without a summary leaves these columns empty.
    title: summary?.title ?? '',
    verdict: run.verdict,
    points: summary?.points ?? null,
    within: counted(WITHIN),
    review: counted(['review']),
    no: counted(NO),
    reasons: [...run.reasonCounts.keys()],
    // A record without a summary leaves these columns empty.
    largest: summary?.largest ?? [],
    // A record without a summary leaves these columns empty.
    bases: summary?.bases ?? [],
    toolVersion: run.toolVersion,
    exitCode: run.exitCode,
    sha256,
  };
}

function daysOf(firstMs: number | null, lastMs: number | null): string | null {
  if (firstMs === null || lastMs === null) return null;
  const day = (ms: number): string => formatUtc(ms).slice(0, DATE_LENGTH);
  const [first, last] = [day(firstMs), day(lastMs)];
  return first === last ? first : `${first}/${last}`;
}
