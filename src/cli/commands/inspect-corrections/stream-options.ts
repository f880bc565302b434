import { parseUtc } from '../../../core/numeric/text/parse-utc.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { BROADCAST_TOLERANCE_M } from '../../../tasks/corrections/hold-broadcast.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';

/** What is asked of streams. */
export interface StreamOptions {
  /** Midnight UTC of --date, milliseconds since 1970; null without it. */
  readonly dateMs: number | null;
  readonly toleranceM: number;
  readonly hours: number;
}

/** Hours of a day of work, where nothing is said. */
const DEFAULT_HOURS = 8;
const MOST_HOURS = 24;
/** More would hold against nothing. */
const MOST_TOLERANCE_M = 10;

/** Reads them. Problems: usage-invalid. */
export function streamOptions(invocation: Invocation): Outcome<StreamOptions> {
  const date = textOption(invocation, 'date');
  const dateMs = date === null ? null : dayMs(date);
  if (date !== null && dateMs === null)
    return invalid(
      `--date ${date} is no date`,
      date,
      'write it as 2026-03-04, the day in UTC on which the recording begins',
    );
  const toleranceM = numberOption(invocation, 'broadcastTolerance') ?? BROADCAST_TOLERANCE_M;
  if (!(toleranceM > 0 && toleranceM <= MOST_TOLERANCE_M))
    return invalid(
      `--broadcast-tolerance ${String(toleranceM)} is not above 0 and at most ${String(MOST_TOLERANCE_M)} m`,
      String(toleranceM),
      'give metres',
    );
  const hours = numberOption(invocation, 'hours') ?? DEFAULT_HOURS;
  if (!(hours > 0 && hours <= MOST_HOURS))
    return invalid(
      `--hours ${String(hours)} is not above 0 and at most ${String(MOST_HOURS)}`,
      String(hours),
      'give the hours of one day',
    );
  return success({ dateMs, toleranceM, hours });
}

function dayMs(text: string): number | null {
  const ms = /^\d{4}-\d{2}-\d{2}$/u.test(text) ? parseUtc(`${text}T00:00:00Z`) : 'syntax';
  return typeof ms === 'number' ? ms : null;
}

function invalid(message: string, received: string, hint: string): Outcome<StreamOptions> {
  return failure(errorProblem('usage-invalid', { message, received, hint }));
}
