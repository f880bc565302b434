import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import { parseUtc } from '../../../../core/numeric/text/parse-utc.js';
import type { TimetableSettings } from '../../../../core/planning/time/timetable.js';
import { createCsvWriter } from '../../../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { PlanDay } from '../../../../tasks/plan/plan-days.js';
import { numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { badOption } from './plan-settings.js';

/** When the work takes place, as far as it is said. */
export interface PlanTime {
  /** Milliseconds since 1970-01-01T00:00:00Z; null: not said. */
  readonly startMs: number | null;
  /** 1 to 12; from the start, or stated; null: not said. */
  readonly month: number | null;
}

const COLUMNS: readonly string[] = [
  'sequence',
  'base_id',
  'point_id',
  'role',
  'occupation',
  'drive_km',
  'drive_min',
  'arrive_utc',
  'wait_min',
  'start_utc',
  'end_utc',
];

/** Seconds a control occupation takes where the plan says nothing longer. */
const CONTROL_OCCUPATION_S = 180;

/** Reads --start-utc and --month. Problems: usage-invalid, usage-conflict. */
export function planTime(invocation: Invocation): Outcome<PlanTime> {
  const text = textOption(invocation, 'startUtc');
  const month = numberOption(invocation, 'month');
  if (month !== null && (month < 1 || month > 12)) return badOption('--month', String(month), 'from 1 to 12');
  if (text === null) return success({ startMs: null, month });
  const startMs = parseUtc(text);
  if (typeof startMs !== 'number') return badOption('--start-utc', text, 'a UTC time, such as 2026-03-04T06:00:00Z');
  if (month !== null)
    return failure(
      errorProblem('usage-conflict', { message: '--start-utc says the month already', hint: 'leave out --month' }),
    );
  return success({ startMs, month: monthOf(startMs) });
}

function monthOf(ms: number): number {
  const text = formatUtc(ms).slice(5, 7);
  return (text.charCodeAt(0) - 48) * 10 + text.charCodeAt(1) - 48;
}

/** Settings of the day; seconds count from 1970-01-01T00:00:00Z. Null where no timetable is asked for. Problems: usage-conflict, usage-invalid. */
export function timetableSettings(
  invocation: Invocation,
  { startMs }: PlanTime,
  occupationS: number,
): Outcome<TimetableSettings | null> {
  if (textOption(invocation, 'timetable') === null) return success(null);
  const averageSpeedKmh = numberOption(invocation, 'speed');
  if (startMs === null || averageSpeedKmh === null) {
    return failure(
      errorProblem('usage-conflict', {
        message: `--timetable needs ${startMs === null ? '--start-utc' : '--speed'}`,
        hint: 'for example --start-utc 2026-03-04T06:00:00Z --speed 50',
      }),
    );
  }
  const hours = numberOption(invocation, 'hours');
  const startS = startMs / 1000;
  return success({
    startS,
    latestEndS: hours === null ? null : startS + hours * 3600,
    baseSetupS: (numberOption(invocation, 'setupMinutes') ?? 30) * 60,
    overheadS: (numberOption(invocation, 'overheadMinutes') ?? 3) * 60,
    controlOccupationS: Math.max(CONTROL_OCCUPATION_S, occupationS),
    averageSpeedKmh,
    detourFactor: numberOption(invocation, 'detour') ?? 1.3,
  });
}

/** The days as CSV; what did not fit comes last, without times. */
export function timetableText(days: readonly PlanDay[], csv: CsvWriteOptions): string {
  const writer = createCsvWriter(COLUMNS, csv);
  const utc = (seconds: number): string => formatUtc(Math.round(seconds) * 1000);
  const rows = days.flatMap(({ baseId, timetable }) => [
    ...timetable.visits.map((visit) => [
      String(visit.sequence),
      baseId,
      visit.pointId,
      visit.role,
      String(visit.occupation),
      formatFixed(visit.driveM / 1000, 1),
      formatFixed(visit.driveS / 60, 1),
      utc(visit.arriveS),
      formatFixed(visit.waitS / 60, 1),
      utc(visit.startS),
      utc(visit.endS),
    ]),
    ...timetable.leftOut.map(({ pointId, occupation }) => [
      '',
      baseId,
      pointId,
      'left-out',
      String(occupation),
      '',
      '',
      '',
      '',
      '',
      '',
    ]),
  ]);
  return writer.header() + writer.rows(rows);
}
