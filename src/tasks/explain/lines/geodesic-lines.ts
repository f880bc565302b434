import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../core/numeric/angle-units.js';
import { ellipsoidLines } from '../position/explain-geodetic.js';
import { ANGLE, LENGTH, METRES, NUMBER, given, together, withDecimals, worked } from './worked-lines.js';

/** The series may differ so far from the geodesic that the program computes, metres: the digits that both print. */
const SAME_M = 5e-5;
const MOST_TURNS = 40;
const SETTLED_RAD = 1e-15;
const SERIES = withDecimals(NUMBER, 13);
/** What is left of a line along the equator, whose middle has no latitude of its own. */
const LEAST_COS2 = 1e-12;

/** What follows φ and λ in the names of the two ends. */
export interface LineNames {
  readonly from: string;
  readonly to: string;
}

interface Line {
  readonly latitude1: number;
  readonly latitude2: number;
  readonly difference: number;
  readonly lambda: number;
}

/**
 * The line between two places by Vincenty's inverse formula, which a calculator can do; what the program gives is Karney's, to the last
 * bit for every pair of places.
 *
 * Given: the ellipsoid; latitudes and longitudes, degrees; what follows φ and λ in the names they have above; the length, metres. Returned: the last round of
 * the iteration and the length; nothing on a sphere, or where the formula does not settle or gives another length.
 * Reference: VINCENTY-1975, equations 13 to 18, 20.
 */
export function geodesicLines(
  ellipsoid: Ellipsoid,
  from: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  to: { readonly latitudeDeg: number; readonly longitudeDeg: number },
  distanceM: number,
  names: LineNames,
): readonly string[] {
  const f = ellipsoid.flattening;
  const turned = to.longitudeDeg - from.longitudeDeg;
  if (f === 0 || distanceM === 0 || Math.abs(turned) > 180) return [];
  const reduced = (deg: number): number => Math.atan((1 - f) * Math.tan(degreesToRadians(deg)));
  const [latitude1, latitude2] = [reduced(from.latitudeDeg), reduced(to.latitudeDeg)];
  const difference = degreesToRadians(turned);
  let lambda = difference;
  for (let turn = 0; turn < MOST_TURNS; turn += 1) {
    const next = roundOf({ latitude1, latitude2, difference, lambda }, f).next;
    const moved = Math.abs(next - lambda);
    lambda = next;
    if (moved < SETTLED_RAD) break;
  }
  return writtenOut(ellipsoid, { latitude1, latitude2, difference, lambda }, distanceM, names);
}

interface Round {
  readonly s: number;
  readonly c: number;
  readonly sigma: number;
  readonly sinAlpha: number;
  readonly cos2: number;
  readonly middle: number;
  readonly k: number;
  readonly next: number;
}

function roundOf({ latitude1, latitude2, difference, lambda }: Line, f: number): Round {
  const [s1, c1, s2, c2] = [Math.sin(latitude1), Math.cos(latitude1), Math.sin(latitude2), Math.cos(latitude2)];
  const s = Math.hypot(c2 * Math.sin(lambda), c1 * s2 - s1 * c2 * Math.cos(lambda));
  const c = s1 * s2 + c1 * c2 * Math.cos(lambda);
  const sigma = Math.atan2(s, c);
  const sinAlpha = (c1 * c2 * Math.sin(lambda)) / s;
  const cos2 = 1 - sinAlpha * sinAlpha;
  const middle = cos2 < LEAST_COS2 ? 0 : c - (2 * s1 * s2) / cos2;
  const k = (f / 16) * cos2 * (4 + f * (4 - 3 * cos2));
  const next = difference + (1 - k) * f * sinAlpha * (sigma + k * s * (middle + k * c * (2 * middle * middle - 1)));
  return { s, c, sigma, sinAlpha, cos2, middle, k, next };
}

function writtenOut(ellipsoid: Ellipsoid, line: Line, distanceM: number, { from, to }: LineNames): readonly string[] {
  const { semiMajorAxisM: a, flattening: f } = ellipsoid;
  const { s, c, sigma, sinAlpha, cos2, middle, k } = roundOf(line, f);
  const b = a * (1 - f);
  const w = (cos2 * (a * a - b * b)) / (b * b);
  const big = 1 + (w / 16384) * (4096 + w * (-768 + w * (320 - 175 * w)));
  const small = (w / 1024) * (256 + w * (-128 + w * (74 - 47 * w)));
  const correction =
    small *
    s *
    (middle +
      (small / 4) *
        (c * (2 * middle * middle - 1) - (small / 6) * middle * (4 * s * s - 3) * (4 * middle * middle - 3)));
  const lengthM = b * big * (sigma - correction);
  if (!(Math.abs(lengthM - distanceM) < SAME_M)) return [];
  const degrees = (radians: number): number => radians * DEGREES_PER_RADIAN;
  const { latitude1, latitude2, difference, lambda } = line;
  // The shorter a line, the fewer digits of its direction the coordinates give.
  const places = Math.min(10, Math.max(3, Math.floor(13.2 + Math.log10(s))));
  return [
    ...ellipsoidLines(ellipsoid),
    together(
      worked('b', 'a·(F − 1) / F', b, LENGTH),
      worked('U₁', `atan((F − 1) / F·tan φ${from})`, degrees(latitude1), ANGLE),
      worked('U₂', `atan((F − 1) / F·tan φ${to})`, degrees(latitude2), ANGLE),
      worked('L', `λ${to} − λ${from}`, degrees(difference), ANGLE),
    ),
    `by Vincenty’s formula, in rounds from L until Λ stays; the last of them: ${given('Λ', degrees(lambda), withDecimals(ANGLE, 15))}`,
    worked('S', '√((cos U₂·sin Λ)² + (cos U₁·sin U₂ − sin U₁·cos U₂·cos Λ)²)', s, SERIES),
    worked('C', 'sin U₁·sin U₂ + cos U₁·cos U₂·cos Λ', c, SERIES),
    worked('σ', 'atan2(S, C)', degrees(sigma), ANGLE),
    together(
      worked('m', 'cos U₁·cos U₂·sin Λ / S', sinAlpha, withDecimals(NUMBER, places)),
      worked('q', '1 − m²', cos2, withDecimals(NUMBER, places)),
      cos2 < LEAST_COS2 ? 'M = 0' : worked('M', 'C − 2·sin U₁·sin U₂ / q', middle, withDecimals(NUMBER, places - 2)),
      worked('K', 'q·(4 + (4 − 3·q) / F) / (16·F)', k, withDecimals(NUMBER, places + 3)),
    ),
    worked('Λ', 'L + (1 − K)·m / F·(σ + K·S·(M + K·C·(2·M² − 1)))', degrees(lambda), ANGLE),
    together(
      worked('w', 'q·(a² − b²) / b²', w, withDecimals(NUMBER, places + 2)),
      worked('A', '1 + w / 16384·(4096 − w·(768 − w·(320 − 175·w)))', big, withDecimals(NUMBER, places + 2)),
      worked('B', 'w / 1024·(256 − w·(128 − w·(74 − 47·w)))', small, withDecimals(NUMBER, places + 2)),
    ),
    worked(
      'Δσ',
      'B·S·(M + B / 4·(C·(2·M² − 1) − B / 6·M·(4·S² − 3)·(4·M² − 3)))',
      degrees(correction),
      withDecimals(ANGLE, 12),
    ),
    worked('distance', 'b·A·(σ − Δσ)', lengthM, METRES),
    azimuthLine(line, Math.min(6, places - 2)),
  ];
}

function azimuthLine({ latitude1, latitude2, lambda }: Line, decimals: number): string {
  const azimuth = Math.atan2(
    Math.cos(latitude2) * Math.sin(lambda),
    Math.cos(latitude1) * Math.sin(latitude2) - Math.sin(latitude1) * Math.cos(latitude2) * Math.cos(lambda),
  );
  const isWest = azimuth < 0;
  return worked(
    'azimuth',
    `atan2(cos U₂·sin Λ, cos U₁·sin U₂ − sin U₁·cos U₂·cos Λ)${isWest ? ' + 360°' : ''}`,
    azimuth * DEGREES_PER_RADIAN + (isWest ? 360 : 0),
    withDecimals(ANGLE, decimals),
  );
}
