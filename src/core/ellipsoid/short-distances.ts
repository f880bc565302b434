import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';
import type { Ellipsoid } from './ellipsoid.js';
import { longitudeBetweenDeg, MOST_DEG, MOST_ROUNDS, SETTLED, shortArcsine } from './short-geodesic.js';
import { shortSeries } from './short-series.js';

/** So many lines are solved together. */
const TOGETHER = 256;

/**
 * Distances from one position to many, metres, written into an array; NaN where they differ by more than 2° in latitude or longitude.
 * Given: latitude −90…90, longitude any finite number, degrees.
 */
export type ShortDistances = (latitudeDeg: number, longitudeDeg: number, intoM: Float64Array) => void;

/**
 * The distances of `createShortGeodesic`, to the last bit (a property test holds the two together), from any position to the same many.
 * What their latitudes give to a line is worked out once, and a round is gone for many lines before the next is for any: the steps of one
 * line wait for each other, those of its neighbours do not. Half the time of one line after another.
 *
 * Given: the ellipsoid; the positions, degrees, as there.
 */
export function createShortDistances(
  ellipsoid: Ellipsoid,
  latitudesDeg: Float64Array,
  longitudesDeg: Float64Array,
): ShortDistances {
  const f = ellipsoid.flattening;
  const { isSuited } = shortSeries(ellipsoid);
  const { radius, sine, cosine } = reducedLatitudes(f, latitudesDeg);
  const lines = emptyLines();
  const { places, lambda, sinBetween: between, sinBeta2, cosBeta2, distanceM } = lines;
  const solve = createSolver(ellipsoid, lines);
  const flush = (sinBeta1: number, cosBeta1: number, count: number, intoM: Float64Array): void => {
    solve(sinBeta1, cosBeta1, count);
    for (let line = 0; line < count; line += 1) intoM[places[line] as number] = distanceM[line] as number;
  };

  return (latitudeDeg, longitudeDeg, intoM) => {
    const y1 = (1 - f) * Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
    const x1 = Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
    const r1 = Math.sqrt(x1 * x1 + y1 * y1);
    let count = 0;
    for (let at = 0; at < latitudesDeg.length; at += 1) {
      const northDeg = (latitudesDeg[at] as number) - latitudeDeg;
      const differenceDeg = longitudeBetweenDeg(longitudeDeg, longitudesDeg[at] as number);
      intoM[at] = Number.NaN;
      if (!isSuited || Math.abs(northDeg) > MOST_DEG || Math.abs(differenceDeg) > MOST_DEG) continue;
      places[count] = at;
      lambda[count] = differenceDeg * RADIANS_PER_DEGREE;
      between[count] = ((1 - f) * Math.sin(northDeg * RADIANS_PER_DEGREE)) / (r1 * (radius[at] as number));
      sinBeta2[count] = sine[at] as number;
      cosBeta2[count] = cosine[at] as number;
      count += 1;
      if (count < TOGETHER) continue;
      flush(y1 / r1, x1 / r1, count, intoM);
      count = 0;
    }
    flush(y1 / r1, x1 / r1, count, intoM);
  };
}

/** Lines that are solved together: the place of each in the list; what it is solved from; its distance, NaN where it does not settle. */
interface Lines {
  readonly places: Int32Array;
  readonly lambda: Float64Array;
  readonly sinBetween: Float64Array;
  readonly sinBeta2: Float64Array;
  readonly cosBeta2: Float64Array;
  readonly distanceM: Float64Array;
}

function emptyLines(): Lines {
  const room = (): Float64Array => new Float64Array(TOGETHER);
  const given = { lambda: room(), sinBetween: room(), sinBeta2: room(), cosBeta2: room() };
  return { places: new Int32Array(TOGETHER), ...given, distanceM: room() };
}

/** Solves the first so many lines from the place of a reduced latitude, by the triangle of `createShortGeodesic`. */
function createSolver(ellipsoid: Ellipsoid, lines: Lines): (sinBeta1: number, cosBeta1: number, count: number) => void {
  const f = ellipsoid.flattening;
  const { secondEccentricitySquared } = shortSeries(ellipsoid);
  const { lambda, sinBeta2, distanceM } = lines;
  const omega = new Float64Array(TOGETHER);
  /** Those not settled yet. */
  const open = new Int32Array(TOGETHER);
  const round = createRound(ellipsoid, lines, omega, open);
  return (sinBeta1, cosBeta1, count) => {
    for (let at = 0; at < count; at += 1) {
      const sinMiddle = (sinBeta1 + (sinBeta2[at] as number)) / 2;
      omega[at] = (lambda[at] as number) / ((1 - f) * Math.sqrt(1 + secondEccentricitySquared * sinMiddle * sinMiddle));
      open[at] = at;
    }
    let left = count;
    for (let rounds = 0; rounds < MOST_ROUNDS && left > 0; rounds += 1) left = round(sinBeta1, cosBeta1, left);
    for (let entry = 0; entry < left; entry += 1) distanceM[open[entry] as number] = Number.NaN;
  };
}

/** One round for the open lines: those that settle have their distance then, the others are open still. Returned: how many. */
function createRound(
  ellipsoid: Ellipsoid,
  lines: Lines,
  omegas: Float64Array,
  open: Int32Array,
): (sinBeta1: number, cosBeta1: number, count: number) => number {
  const f = ellipsoid.flattening;
  const semiMinorAxisM = ellipsoid.semiMajorAxisM * (1 - f);
  const { secondEccentricitySquared, a3, c31, c32, c33 } = shortSeries(ellipsoid);
  const { lambda: lambdas, sinBetween: between, sinBeta2: sines, cosBeta2: cosines, distanceM } = lines;

  return (sinBeta1, cosBeta1, count) => {
    let left = 0;
    for (let entry = 0; entry < count; entry += 1) {
      const at = open[entry] as number;
      const omega = omegas[at] as number;
      const lambda = lambdas[at] as number;
      const sinBetween = between[at] as number;
      const sinBeta2 = sines[at] as number;
      const cosBeta2 = cosines[at] as number;
      const sinOmega = Math.sin(omega);
      const cosOmega = Math.cos(omega);
      const versineOmega = (sinOmega * sinOmega) / (1 + cosOmega);
      const east1 = cosBeta2 * sinOmega;
      const north1 = sinBetween + sinBeta1 * cosBeta2 * versineOmega;
      const sinSigma = Math.sqrt(east1 * east1 + north1 * north1);
      const cosSigma = sinBeta1 * sinBeta2 + cosBeta1 * cosBeta2 * cosOmega;
      const sigma = shortArcsine(sinSigma);
      const sinAlpha0 = sinSigma === 0 ? 0 : (cosBeta1 * east1) / sinSigma;
      const cosSquared = 1 - sinAlpha0 * sinAlpha0;
      const kSquared = secondEccentricitySquared * cosSquared;
      const root = 1 + Math.sqrt(1 + kSquared);
      const e = kSquared / (2 * root + kSquared);

      // sin 2lσ₂ − sin 2lσ₁ = 2 cos 2lσₘ sin lσ for l = 1…4, each from the two before.
      const cos1 = cosSquared > 0 ? cosSigma - (2 * sinBeta1 * sinBeta2) / cosSquared : 0;
      const cos2 = 2 * cos1 * cos1 - 1;
      const cos3 = 2 * cos1 * cos2 - cos1;
      const cos4 = 2 * cos1 * cos3 - cos2;
      const sin2 = 2 * cosSigma * sinSigma;
      const sin3 = 2 * cosSigma * sin2 - sinSigma;
      const sin4 = 2 * cosSigma * sin3 - sin2;
      const term1 = 2 * cos1 * sinSigma;
      const term2 = 2 * cos2 * sin2;
      const term3 = 2 * cos3 * sin3;
      const term4 = 2 * cos4 * sin4;

      const sum3 =
        sigma +
        e * (term1 * (c31[0] + e * (c31[1] + e * c31[2])) + e * (term2 * (c32[0] + e * c32[1]) + e * term3 * c33));
      const factor3 = 1 + e * (a3[0] + e * (a3[1] + e * a3[2]));
      const settled = omega === 0 ? 0 : lambda / (1 - (f * sinAlpha0 * factor3 * sum3) / omega);
      if (Math.abs(settled - omega) > SETTLED * Math.abs(omega)) {
        omegas[at] = settled;
        open[left] = at;
        left += 1;
        continue;
      }
      const e2 = e * e;
      const sum1 =
        sigma +
        e *
          (term1 * (-1 / 2 + (e2 * 3) / 16) +
            e * (term2 * (-1 / 16 + e2 / 32) - e * (term3 / 48 + (e * term4 * 5) / 512)));
      distanceM[at] = ((semiMinorAxisM * (1 + e2 * (1 / 4 + e2 / 64))) / (1 - e)) * sum1;
    }
    return left;
  };
}

/** Sines and cosines of reduced latitudes, each as one line works them out, and what they were divided by. */
function reducedLatitudes(
  f: number,
  latitudesDeg: Float64Array,
): { readonly radius: Float64Array; readonly sine: Float64Array; readonly cosine: Float64Array } {
  const { length } = latitudesDeg;
  const [radius, sine, cosine] = [new Float64Array(length), new Float64Array(length), new Float64Array(length)];
  for (let at = 0; at < length; at += 1) {
    const latitude = (latitudesDeg[at] as number) * RADIANS_PER_DEGREE;
    const y = (1 - f) * Math.sin(latitude);
    const x = Math.cos(latitude);
    const r = Math.sqrt(x * x + y * y);
    radius[at] = r;
    sine[at] = y / r;
    cosine[at] = x / r;
  }
  return { radius, sine, cosine };
}
