import type { SimilarityPoint } from '../../../src/core/adjustment/fit-similarity.js';
import type { SeededRandom } from '../../support/seeded-random.js';

/** The places of the control of a made-up site: eight around a few kilometres. */
export const PLACES: readonly { readonly eastM: number; readonly northM: number }[] = [
  { eastM: 10_000, northM: 20_000 },
  { eastM: 13_000, northM: 20_400 },
  { eastM: 13_500, northM: 23_000 },
  { eastM: 11_000, northM: 24_000 },
  { eastM: 9_500, northM: 22_500 },
  { eastM: 11_800, northM: 21_700 },
  { eastM: 12_600, northM: 19_700 },
  { eastM: 10_300, northM: 23_700 },
];

export const TRUE_SCALE = 1.000_184;
export const TRUE_ROTATION_RAD = 0.0123;
export const TRUE_SHIFT = { eastM: -9_000, northM: -18_000 };

/** The true target of a source place. */
export function trueTarget(place: { readonly eastM: number; readonly northM: number }): {
  readonly eastM: number;
  readonly northM: number;
} {
  const cosine = TRUE_SCALE * Math.cos(TRUE_ROTATION_RAD);
  const sine = TRUE_SCALE * Math.sin(TRUE_ROTATION_RAD);
  return {
    eastM: TRUE_SHIFT.eastM + place.eastM * cosine - place.northM * sine,
    northM: TRUE_SHIFT.northM + place.eastM * sine + place.northM * cosine,
  };
}

/** Points with sigmas between 5 and 15 mm on both sides, correlated on the source side; noise drawn from them when asked. */
export function sitePoints(random: SeededRandom | null): readonly SimilarityPoint[] {
  return PLACES.map((place, index) => {
    const sigmaE = 0.005 + 0.001 * index;
    const sigmaN = 0.012 - 0.0005 * index;
    const correlation = 0.4;
    const control = 0.006 + 0.0005 * index;
    const [a, b, c, d] =
      random === null ? [0, 0, 0, 0] : [random.normal(), random.normal(), random.normal(), random.normal()];
    const target = trueTarget(place);
    return {
      source: {
        eastM: place.eastM + sigmaE * a,
        northM: place.northM + sigmaN * (correlation * a + Math.sqrt(1 - correlation * correlation) * b),
      },
      target: { eastM: target.eastM + control * c, northM: target.northM + control * d },
      sourceCovariance: { xx: sigmaE * sigmaE, xy: correlation * sigmaE * sigmaN, yy: sigmaN * sigmaN },
      targetCovariance: { xx: control * control, xy: 0, yy: control * control },
    };
  });
}
