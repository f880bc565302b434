import { describe, expect, it } from 'vitest';
import type { PlanePair } from '../../../../src/core/projection/projection-engine.js';
import { refineInverse } from '../../../../src/core/projection/methods/refine-inverse.js';

const RADIUS_M = 6_371_000;
type Forward = (latitudeRad: number, longitudeRad: number, out: PlanePair) => boolean;

/** A plate carrée of a scale, refused where `holds` says so. */
const plateCarree =
  (scale: number, holds: (latitudeRad: number, longitudeRad: number) => boolean = () => true): Forward =>
  (latitudeRad, longitudeRad, out) => {
    if (!holds(latitudeRad, longitudeRad)) return false;
    out.eastM = scale * RADIUS_M * longitudeRad;
    out.northM = scale * RADIUS_M * latitudeRad;
    return true;
  };

function refined(
  forward: Forward,
  latitudeRad: number,
  longitudeRad: number,
  fromLatitudeRad: number,
  fromLongitudeRad: number,
  scale = 1,
): readonly [number, number] {
  const position = { latitudeRad: fromLatitudeRad, longitudeRad: fromLongitudeRad };
  refineInverse(forward, scale * RADIUS_M * longitudeRad, scale * RADIUS_M * latitudeRad, position);
  return [position.latitudeRad, position.longitudeRad];
}

describe('refineInverse', () => {
  it('brings a position some metres away onto the place', () => {
    const [latitude, longitude] = refined(plateCarree(1), 0.5, 0.2, 0.5 + 3e-6, 0.2 - 5e-6);
    expect(Math.abs(latitude - 0.5) * RADIUS_M).toBeLessThan(3e-9);
    expect(Math.abs(longitude - 0.2) * RADIUS_M).toBeLessThan(3e-9);
  });

  it('leaves a position that agrees, or is too far to be a slip of the inverse', () => {
    expect(refined(plateCarree(1), 0.5, 0.2, 0.5, 0.2)).toEqual([0.5, 0.2]);
    expect(refined(plateCarree(1), 0.5, 0.2, 0.5 + 2e-5, 0.2)).toEqual([0.5 + 2e-5, 0.2]);
  });

  it('leaves a position at which, or beside which, the forward formula fails', () => {
    const from = [0.5 + 3e-6, 0.2 - 5e-6] as const;
    expect(
      refined(
        plateCarree(1, () => false),
        0.5,
        0.2,
        ...from,
      ),
    ).toEqual(from);
    expect(
      refined(
        plateCarree(1, (latitude) => latitude <= from[0]),
        0.5,
        0.2,
        ...from,
      ),
    ).toEqual(from);
    expect(
      refined(
        plateCarree(1, (_, longitude) => longitude <= from[1]),
        0.5,
        0.2,
        ...from,
      ),
    ).toEqual(from);
  });

  it('takes no step that is too large to be one, nor one over a pole', () => {
    const small = 1e-7;
    expect(refined(plateCarree(small), 0.5, 0.2, 0.5 + 1e-3, 0.2, small)).toEqual([0.5 + 1e-3, 0.2]);
    expect(refined(plateCarree(small), 0.5, 0.2, 0.5, 0.2 + 0.1, small)).toEqual([0.5, 0.2 + 0.1]);
    const beforePole = Math.PI / 2 - 1e-6;
    expect(refined(plateCarree(1), Math.PI / 2 + 2e-6, 0.2, beforePole, 0.2)).toEqual([beforePole, 0.2]);
  });
});
