import { instantOfWeek } from '../../core/sky/gps-clock.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { OrbitElements, SkySystem } from '../../records/sky/orbit-elements.js';
import { navFault } from './nav-fault.js';
import { orbitFault } from './plausible-orbit.js';

/** What an almanac says of a satellite, in radians. */
export interface AlmanacRow {
  /** Line of its record, from 1. */
  readonly line: number;
  readonly number: number;
  readonly health: number;
  readonly eccentricity: number;
  readonly referenceOfWeekS: number;
  readonly week: number;
  readonly inclinationRad: number;
  readonly nodeRateRadPerS: number;
  readonly rootSemiMajorAxis: number;
  readonly nodeRad: number;
  readonly perigeeRad: number;
  readonly meanAnomalyRad: number;
}

const LAST_GPS = 63;
const FIRST_QZSS = 193;
const LAST_QZSS = 202;
const WEEK_S = 604_800;

/** The satellite that a number of an almanac stands for; null: none that is planned with. */
export function almanacSatellite(number: number): { readonly satellite: string; readonly system: SkySystem } | null {
  const named = (letter: string, own: number): string => `${letter}${String(own).padStart(2, '0')}`;
  if (number >= 1 && number <= LAST_GPS) return { satellite: named('G', number), system: 'GPS' };
  if (number >= FIRST_QZSS && number <= LAST_QZSS)
    return { satellite: named('J', number - FIRST_QZSS + 1), system: 'QZSS' };
  return null;
}

/**
 * The elements of an almanac row. Given: the row; the instant, on the clock of GPS, near which a week that rolled over is looked for.
 * Problems: nav-unreadable for times that are none, nav-implausible for what is no orbit.
 */
export function almanacElements(
  row: AlmanacRow,
  who: { readonly satellite: string; readonly system: SkySystem },
  nearMs: number,
): Outcome<OrbitElements> {
  const { line, health, week, referenceOfWeekS, number: _number, ...orbit } = row;
  if (!(Number.isInteger(week) && week >= 0 && referenceOfWeekS >= 0 && referenceOfWeekS < WEEK_S))
    return failure(
      navFault(
        line,
        `${who.satellite}: second ${String(referenceOfWeekS)} of week ${String(week)} is no time`,
        'a whole week, and seconds from 0 to below 604800',
      ),
    );
  const elements: OrbitElements = {
    ...orbit,
    ...who,
    kind: 'kepler',
    origin: 'almanac',
    referenceOfWeekS,
    referenceMs: instantOfWeek(week, referenceOfWeekS, nearMs),
    isHealthy: health === 0,
    isGeostationary: false,
    ...{ meanMotionDifferenceRadPerS: 0, inclinationRateRadPerS: 0 },
    ...{ cucRad: 0, cusRad: 0, crcM: 0, crsM: 0, cicRad: 0, cisRad: 0 },
  };
  const fault = orbitFault(elements, line);
  return fault === null ? success(elements) : failure(fault);
}
