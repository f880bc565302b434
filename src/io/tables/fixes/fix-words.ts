import type { ReferencePoint } from '../../../records/points/point.js';
import type { Solution } from '../../../records/session.js';

/** Of each solution its own name, then what else the trade writes for it (common practice, no published source), and its NMEA 0183 GGA quality (from memory). */
const SPELLINGS: Readonly<Record<Solution, readonly string[]>> = {
  fixed: ['fixed', 'fix', 'integer', 'rtk fixed', 'rtk fix', 'fixed rtk', '4'],
  float: ['float', 'floating', 'rtk float', 'float rtk', '5'],
  differential: ['differential', 'dgps', 'dgnss', '2'],
  autonomous: ['autonomous', 'single', 'standalone', 'stand alone', '1'],
};

/** Words of the `solution` column, in small letters. `rtk` alone says nothing of it, and is none. */
export const SOLUTION_WORDS: ReadonlyMap<string, Solution> = new Map(
  (Object.keys(SPELLINGS) as Solution[]).flatMap((solution) =>
    SPELLINGS[solution].map((word): [string, Solution] => [word, solution]),
  ),
);

/** Words of the `reference_point` column: antenna phase centre, antenna reference point, pole tip. */
export const REFERENCE_POINT_WORDS: ReadonlyMap<string, ReferencePoint> = new Map<string, ReferencePoint>([
  ['apc', 'apc'],
  ['arp', 'arp'],
  ['tip', 'tip'],
]);
