import type { ReferencePoint } from '../../../records/points/point.js';
import type { Solution } from '../../../records/session.js';

/** Words and NMEA 0183 GGA quality digits of the `solution` column. Source of the digits: from memory of NMEA 0183. */
export const SOLUTION_WORDS: ReadonlyMap<string, Solution> = new Map<string, Solution>([
  ['fixed', 'fixed'],
  ['float', 'float'],
  ['differential', 'differential'],
  ['autonomous', 'autonomous'],
  ['4', 'fixed'],
  ['5', 'float'],
  ['2', 'differential'],
  ['1', 'autonomous'],
]);

/** Words of the `reference_point` column: antenna phase centre, antenna reference point, pole tip. */
export const REFERENCE_POINT_WORDS: ReadonlyMap<string, ReferencePoint> = new Map<string, ReferencePoint>([
  ['apc', 'apc'],
  ['arp', 'arp'],
  ['tip', 'tip'],
]);
