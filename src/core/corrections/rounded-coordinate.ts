import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';

/** Steps of metres that a coordinate typed by hand is likely to be a multiple of, the coarsest first. */
const STEPS_M = [1, 0.1, 0.01] as const;
/** A stream holds tenths of a millimetre: what was typed comes out to within one of them. */
const WITHIN_M = 0.000_15;
/** Decimals of degrees that are likely to have been typed, 0.11 m on the ground: the coarsest first. */
const STEPS_DEG = [0.0001, 0.000_01, 0.000_001] as const;
const METRES_A_DEGREE = 111_320;
/** Latitude and longitude of a coordinate in tenths of a millimetre are known to this on the ground, metres. */
const GROUND_WITHIN_M = 0.000_3;

/** What a coordinate is a multiple of. */
export type Rounded =
  { readonly of: 'geocentric'; readonly stepM: number } | { readonly of: 'geodetic'; readonly stepDeg: number };

/**
 * Whether a coordinate that a station sent was typed in roughly: all three geocentric numbers are multiples of a centimetre or
 * more, or latitude and longitude are multiples of a millionth of a degree or more. A measured coordinate is one of these by chance in three
 * cases of 100,000. Null: neither.
 */
export function roundedCoordinate({ xM, yM, zM }: GeocentricPoint, geodetic: GeodeticPoint): Rounded | null {
  const stepM = STEPS_M.find((step) => [xM, yM, zM].every((value) => distanceToMultiple(value, step) <= WITHIN_M));
  if (stepM !== undefined) return { of: 'geocentric', stepM };
  const { latitudeDeg, longitudeDeg } = geodetic;
  const eastMetres = METRES_A_DEGREE * Math.cos((latitudeDeg * Math.PI) / 180);
  const stepDeg = STEPS_DEG.find(
    (step) =>
      distanceToMultiple(latitudeDeg, step) * METRES_A_DEGREE <= GROUND_WITHIN_M &&
      distanceToMultiple(longitudeDeg, step) * eastMetres <= GROUND_WITHIN_M,
  );
  return stepDeg === undefined ? null : { of: 'geodetic', stepDeg };
}

function distanceToMultiple(value: number, step: number): number {
  return Math.abs(value - Math.round(value / step) * step);
}
