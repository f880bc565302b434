import { BEIDOU_BEHIND_S, gpsFromUtc, nearestAtSecondOfWeek } from '../../core/sky/gps-clock.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { KeplerElements, OrbitElements, SkySystem, StateElements } from '../../records/sky/orbit-elements.js';
import { present } from '../../records/present.js';
import { navFault } from './nav-fault.js';
import { orbitFault } from './plausible-orbit.js';
import type { NavRecord } from './rinex-records.js';

/** Places of fields behind the first line, from 0, four a line: the same in every Kepler record of every version. */
const KEPLER = {
  crsM: 1,
  meanMotionDifferenceRadPerS: 2,
  meanAnomalyRad: 3,
  cucRad: 4,
  eccentricity: 5,
  cusRad: 6,
  rootSemiMajorAxis: 7,
  referenceOfWeekS: 8,
  cicRad: 9,
  nodeRad: 10,
  cisRad: 11,
  inclinationRad: 12,
  crcM: 13,
  perigeeRad: 14,
  nodeRateRadPerS: 15,
  inclinationRateRadPerS: 16,
} as const;
const KEPLER_HEALTH = 21;

/** The same of a state: kilometres. */
const STATE = {
  ...{ xM: 0, vxMPerS: 1, axMPerS2: 2 },
  ...{ yM: 4, vyMPerS: 5, ayMPerS2: 6 },
  ...{ zM: 8, vzMPerS: 9, azMPerS2: 10 },
} as const;
const STATE_HEALTH = 3;

/** A reference time farther than this from the epoch of its record belongs to another. */
const FARTHEST_MS = 86_400_000;
/** BeiDou satellites that stand over the equator have these numbers. From memory of the BeiDou SIS ICD. */
const GEOSTATIONARY: ReadonlySet<string> = new Set(
  ['01', '02', '03', '04', '05', '59', '60', '61', '62', '63'].map((number) => `C${number}`),
);

/**
 * The elements that a record holds. Given: a record that is planned with. Problems: nav-unreadable for a field that is needed and blank, and a reference time
 * of another week; nav-implausible for what is no orbit.
 * A health that is blank is taken for 0: version 2 had it later than the rest.
 */
export function elementsOfRecord(record: NavRecord): Outcome<OrbitElements> {
  const system = present(record.system, 'the system of a record that is planned with');
  const elements = system === 'GLONASS' ? stateOf(record) : keplerOf(record, system);
  if ('code' in elements) return failure(elements);
  const fault = orbitFault(elements, record.line);
  return fault === null ? success(elements) : failure(fault);
}

function keplerOf(record: NavRecord, system: Exclude<SkySystem, 'GLONASS'>): KeplerElements | Problem {
  const { satellite, epochMs, fields, line } = record;
  const values = valuesOf(KEPLER, record);
  if ('code' in values) return values;
  // Reference times of BeiDou count on its own clock, as its epochs do.
  const ownMs = nearestAtSecondOfWeek(epochMs, values.referenceOfWeekS);
  if (!(Math.abs(ownMs - epochMs) <= FARTHEST_MS))
    return navFault(
      line,
      `${satellite}: the reference time, second ${String(values.referenceOfWeekS)} of the week, lies more than a day from the epoch`,
    );
  return {
    ...values,
    kind: 'kepler',
    satellite,
    system,
    referenceMs: system === 'BeiDou' ? ownMs + 1000 * BEIDOU_BEHIND_S : ownMs,
    origin: 'broadcast',
    isHealthy: isHealthy(system, fields[KEPLER_HEALTH] ?? 0), // Blank is taken for healthy.
    isGeostationary: GEOSTATIONARY.has(satellite),
  };
}

/** The lowest bit of QZSS is of a signal that positions are not taken from. From memory. */
const QZSS_IGNORED = 1;

function isHealthy(system: SkySystem, health: number): boolean {
  return system === 'QZSS' ? health <= QZSS_IGNORED : health === 0;
}

function stateOf(record: NavRecord): StateElements | Problem {
  const { satellite, epochMs, fields, line } = record;
  const kilometres = valuesOf(STATE, record);
  if ('code' in kilometres) return kilometres;
  const referenceMs = gpsFromUtc(epochMs);
  if (referenceMs === null) return navFault(line, `${satellite}: an epoch before 1999 is not read`);
  const inMetres = Object.fromEntries(Object.entries(kilometres).map(([name, value]) => [name, 1000 * value]));
  return {
    ...(inMetres as typeof kilometres),
    kind: 'state',
    satellite,
    system: 'GLONASS',
    referenceMs,
    origin: 'broadcast',
    isHealthy: (fields[STATE_HEALTH] ?? 0) === 0, // Blank is taken for healthy.
  };
}

/** The fields that are needed, by their names; a problem where one of them is blank. */
function valuesOf<Name extends string>(
  places: Readonly<Record<Name, number>>,
  { fields, satellite, line }: NavRecord,
): Readonly<Record<Name, number>> | Problem {
  const values: Record<string, number> = {};
  for (const [name, place] of Object.entries<number>(places)) {
    const value = fields[place] ?? null;
    if (value === null)
      return navFault(
        line + 1 + Math.floor(place / 4),
        `${satellite}: the record has no field ${String(1 + (place % 4))} in this line: it may be cut off`,
        'a number',
      );
    values[name] = value;
  }
  return values as Record<Name, number>;
}
