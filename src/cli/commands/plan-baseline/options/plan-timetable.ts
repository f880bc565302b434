import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import { parseUtc } from '../../../../core/numeric/text/parse-utc.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { PlanDaysSettings } from '../../../../tasks/plan/plan-days.js';
import type { PlanTime } from '../../../../tasks/plan/plan-cautions.js';
import { numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import { badOption } from './plan-settings.js';

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
): Outcome<PlanDaysSettings | null> {
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
  const dayCount = numberOption(invocation, 'days');
  if (dayCount !== null && dayCount < 1) return badOption('--days', String(dayCount), 'of at least 1');
  if (dayCount !== null && hours === null)
    return failure(
      errorProblem('usage-conflict', {
        message: '--days needs --hours: a day without an end has no next one',
        hint: 'for example --hours 9 --days 3',
      }),
    );
  const startS = startMs / 1000;
  return success({
    dayCount: dayCount ?? 1,
    startS,
    latestEndS: hours === null ? null : startS + hours * 3600,
    baseSetupS: (numberOption(invocation, 'setupMinutes') ?? 30) * 60,
    overheadS: (numberOption(invocation, 'overheadMinutes') ?? 3) * 60,
    controlOccupationS: Math.max(CONTROL_OCCUPATION_S, occupationS),
    averageSpeedKmh,
    detourFactor: numberOption(invocation, 'detour') ?? 1.3,
  });
}
