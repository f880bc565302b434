import { parseUtc } from '../../../core/numeric/text/parse-utc.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../../records/outcome.js';
import type { Failure, Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { AcceptanceSettings } from '../../../records/session.js';
import { present } from '../../../records/present.js';
import { SKY_SYSTEMS } from '../../../records/sky/orbit-elements.js';
import type { SkySystem } from '../../../records/sky/orbit-elements.js';
import type { SkyLimits, SkyTimes } from '../../../records/sky/site-sky.js';
import { isGiven, listOption, numberOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';

/** What is asked of a sky beside its files and places. */
export interface SkyOptions {
  readonly times: SkyTimes;
  /** What --utc-offset says, minutes. */
  readonly offsetMinutes: number;
  readonly elevationMaskDeg: number;
  /** Null: all. */
  readonly systems: ReadonlySet<SkySystem> | null;
  readonly declinationDeg: number;
}

/** Defaults of a plan. Common practice, no published source. */
const USUAL_INTERVAL_MIN = 5;
const USUAL_MASK_DEG = 10;
export const USUAL_LIMITS: SkyLimits = { pdop: 4, satellites: 6 };

const HOURS_AND_MINUTES = /^(?<hours>\d{2}):(?<minutes>\d{2})$/u;
const SIGNED_TIME = /^(?<sign>[+-])(?<hours>\d{2}):(?<minutes>\d{2})$/u;
const MINUTE_MS = 60_000;
const DAY_MIN = 1440;
const SHORTEST_INTERVAL_MIN = 1 / 60;
const MOST_OFFSET_MIN = 14 * 60;

/** Reads them. Problems: usage-invalid, usage-conflict. */
export function skyOptions(invocation: Invocation): Outcome<SkyOptions> {
  if (listOption(invocation, 'navigation').length === 0)
    return invalid(
      '--navigation is missing',
      null,
      'name the navigation file of the day, or of the day before, or an almanac',
    );
  const times = timesOf(invocation);
  if (!times.ok) return times;
  const elevationMaskDeg = numberOption(invocation, 'elevationMask') ?? USUAL_MASK_DEG;
  if (!(elevationMaskDeg >= 0 && elevationMaskDeg < 90))
    return outside('--elevation-mask', elevationMaskDeg, '0 to below 90 degrees');
  if (isGiven(invocation, 'declination') && !isGiven(invocation, 'masks'))
    return failure(
      errorProblem('usage-conflict', {
        message: '--declination is of --masks, and none are named',
        hint: 'leave it out',
      }),
    );
  const declinationDeg = numberOption(invocation, 'declination') ?? 0; // Azimuths are from true north.
  if (!(Math.abs(declinationDeg) <= 180)) return outside('--declination', declinationDeg, '-180 to 180 degrees');
  const systems = systemsOf(textOption(invocation, 'systems'));
  if (!systems.ok) return systems;
  return success({ ...times.value, elevationMaskDeg, declinationDeg, systems: systems.value });
}

/** The limits that count: those given, else of the session, else usual ones. Problems: usage-invalid. */
export function skyLimits(invocation: Invocation, acceptance: AcceptanceSettings): Outcome<SkyLimits> {
  const pdop = numberOption(invocation, 'limitPdop') ?? acceptance.maxPdop ?? USUAL_LIMITS.pdop;
  const satellites = numberOption(invocation, 'limitSatellites') ?? acceptance.minSatellites ?? USUAL_LIMITS.satellites;
  if (!(pdop > 0)) return outside('--limit-pdop', pdop, 'above 0');
  return satellites >= 1 ? success({ pdop, satellites }) : outside('--limit-satellites', satellites, '1 or more');
}

function timesOf(invocation: Invocation): Outcome<Pick<SkyOptions, 'times' | 'offsetMinutes'>> {
  const day = textOption(invocation, 'date');
  if (day === null)
    return invalid('--date is missing', null, 'name the day that is planned, such as --date 2026-03-04');
  const midnight = /^\d{4}-\d{2}-\d{2}$/u.test(day) ? parseUtc(`${day}T00:00:00Z`) : 'syntax';
  if (typeof midnight !== 'number') return invalid(`--date ${day} is no date`, day, 'write it as 2026-03-04');
  const offsetText = textOption(invocation, 'utcOffset');
  const offset = offsetText === null ? 0 : minutesOf(offsetText, SIGNED_TIME);
  if (offset === null || Math.abs(offset) > MOST_OFFSET_MIN)
    return invalid(
      `--utc-offset ${present(offsetText, 'an offset that is wrong')} is no offset`,
      offsetText,
      'write it as +02:00 or -05:30',
    );
  const fromText = textOption(invocation, 'fromTime') ?? '00:00';
  const toText = textOption(invocation, 'toTime') ?? '24:00';
  const [from, to] = [fromText, toText].map((text) => minutesOf(text, HOURS_AND_MINUTES));
  if (from == null || from >= DAY_MIN)
    return invalid(`--from-time ${fromText} is no time of a day`, fromText, 'write it as 06:30');
  if (to == null || to > DAY_MIN)
    return invalid(`--to-time ${toText} is no time of a day`, toText, 'write it as 16:00; 24:00 is the end');
  if (to <= from)
    return invalid(
      `--to-time ${toText} does not lie behind --from-time ${fromText}`,
      toText,
      'plan two days one by one',
    );
  const interval = numberOption(invocation, 'interval') ?? USUAL_INTERVAL_MIN;
  if (!(interval >= SHORTEST_INTERVAL_MIN && interval <= DAY_MIN))
    return outside('--interval', interval, 'a second to a day, in minutes');
  const startMs = midnight - offset * MINUTE_MS;
  const times = {
    fromMs: startMs + from * MINUTE_MS,
    toMs: startMs + to * MINUTE_MS,
    intervalS: Math.round(interval * 60),
  };
  return success({ times, offsetMinutes: offset });
}

/** Minutes of `HH:MM`, with a sign where the pattern has one; null: it is none. */
function minutesOf(text: string, pattern: RegExp): number | null {
  const groups = pattern.exec(text)?.groups;
  if (groups === undefined) return null;
  const { sign = '', hours = '', minutes = '' } = groups;
  const [h, m] = [parseDecimal(hours), parseDecimal(minutes)];
  if (h === null || m === null || h > 24 || m > 59) return null;
  return (sign === '-' ? -1 : 1) * (60 * h + m);
}

function systemsOf(text: string | null): Outcome<ReadonlySet<SkySystem> | null> {
  if (text === null) return success(null);
  const words = text.split(',').map((word) => word.trim().toLowerCase());
  const known = new Map(SKY_SYSTEMS.map((system) => [system.toLowerCase(), system]));
  const unknown = words.find((word) => !known.has(word));
  if (unknown !== undefined)
    return invalid(
      `--systems: ${unknown === '' ? 'nothing' : unknown} is no constellation`,
      unknown,
      `one or more of ${[...known.keys()].join(',')}`,
    );
  return success(new Set(words.flatMap((word) => known.get(word) ?? [])));
}

function outside(flag: string, value: number, expected: string): Failure {
  return failure(
    errorProblem('usage-invalid', {
      message: `${flag} ${String(value)} is not ${expected}`,
      received: String(value),
      expected,
    }),
  );
}

function invalid(message: string, received: string | null, hint: string): Failure {
  return failure(errorProblem('usage-invalid', { message, hint, ...(received !== null && { received }) }));
}
