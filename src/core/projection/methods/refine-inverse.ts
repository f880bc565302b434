import type { AnglePair, PlanePair } from '../projection-engine.js';

/** Step of the differences, radians: about 6 m. */
const STEP_RAD = 1e-6;
/** Agreement sought, metres; doubles hold projected coordinates to about a nanometre. */
const CLOSE_M = 2e-9;

/**
 * Brings an inverse result to agree with the forward formula, by Newton's method.
 *
 * Given: the forward formula; the projected coordinates, metres; the position found so far, near
 * enough (some metres), which is changed in place. Where the forward formula fails beside the
 * point, such as at a pole, the position stays as it was.
 */
export function refineInverse(
  forward: (latitudeRad: number, longitudeRad: number, out: PlanePair) => boolean,
  eastM: number,
  northM: number,
  position: AnglePair,
): void {
  const here: PlanePair = { eastM: 0, northM: 0 };
  const north: PlanePair = { eastM: 0, northM: 0 };
  const east: PlanePair = { eastM: 0, northM: 0 };
  for (let i = 0; i < 3; i += 1) {
    const { latitudeRad, longitudeRad } = position;
    if (!forward(latitudeRad, longitudeRad, here)) return;
    const restEastM = eastM - here.eastM;
    const restNorthM = northM - here.northM;
    const rest = Math.max(Math.abs(restEastM), Math.abs(restNorthM));
    if (rest < CLOSE_M || rest > 100) return;
    if (!forward(latitudeRad + STEP_RAD, longitudeRad, north) || !forward(latitudeRad, longitudeRad + STEP_RAD, east))
      return;
    const a = (north.eastM - here.eastM) / STEP_RAD;
    const b = (east.eastM - here.eastM) / STEP_RAD;
    const c = (north.northM - here.northM) / STEP_RAD;
    const d = (east.northM - here.northM) / STEP_RAD;
    const determinant = a * d - b * c;
    const latitudeStep = (restEastM * d - restNorthM * b) / determinant;
    const longitudeStep = (restNorthM * a - restEastM * c) / determinant;
    if (!(Math.abs(latitudeStep) < 1e-4 && Math.abs(longitudeStep) < 1e-2)) return;
    if (!(Math.abs(latitudeRad + latitudeStep) <= Math.PI / 2)) return;
    position.latitudeRad = latitudeRad + latitudeStep;
    position.longitudeRad = longitudeRad + longitudeStep;
  }
}
