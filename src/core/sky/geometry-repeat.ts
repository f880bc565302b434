import { median } from '../numeric/median.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';

/** A GPS satellite makes two rounds in a sidereal day, and stands where it stood so much earlier each day. */
export const REPEAT_MS: number = -236_000;
const DAY_MS = 86_400_000;

/** When the sky of GPS is again as it was at an instant, some days later. */
export function repeatedAt(utcMs: number, days: number): number {
  return utcMs + days * (DAY_MS + REPEAT_MS);
}

const GPS_GRAVITY = 3.986005e14;
const ROUNDS = 2;

/**
 * How much earlier each day the satellites of GPS come back by the elements themselves, seconds, negative: twice their time of
 * revolution less a day of 86,400 s, the median of all. Null without elements of GPS. It lies some ten seconds below the sidereal
 * day, because the planes of the orbits turn.
 */
export function repeatByElements(elements: readonly OrbitElements[]): number | null {
  const shifts = elements.flatMap((one) => {
    if (one.kind !== 'kepler' || one.system !== 'GPS') return [];
    const axisM = one.rootSemiMajorAxis ** 2;
    const motion = Math.sqrt(GPS_GRAVITY / axisM ** 3) + one.meanMotionDifferenceRadPerS;
    return [(ROUNDS * 2 * Math.PI) / motion - DAY_MS / 1000];
  });
  return shifts.length === 0 ? null : median(shifts);
}
