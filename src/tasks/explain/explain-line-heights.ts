import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { createGeodesic } from '../../core/ellipsoid/geodesic.js';
import { meridianRadiusM, primeVerticalRadiusM } from '../../core/ellipsoid/radii.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { EllipsoidJoin } from '../../records/points/point-join.js';
import type { WorkingStep } from '../../records/working-step.js';
import { middleAzimuthDeg } from '../join/join-on-ellipsoid.js';
import { ellipsoidLines } from './position/explain-geodetic.js';
import { metres } from './explain-text.js';
import {
  FACTOR,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  given,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';

/**
 * What the heights of its ends make of a line: the distance at their mean, the slope distance and the difference of heights. Its length
 * s on the ellipsoid and the places of its ends stand in the steps before.
 */
export const lineHeightSteps = (join: EllipsoidJoin, ellipsoid: Ellipsoid): readonly WorkingStep[] => [
  ...groundSteps(join, ellipsoid),
  ...slopeSteps(join, ellipsoid),
  ...heightSteps(join),
];

function groundSteps(join: EllipsoidJoin, ellipsoid: Ellipsoid): readonly WorkingStep[] {
  const { from, to, meanHeightM, elevationFactor, groundDistanceM } = join;
  const [h1, h2] = [from.ellipsoidalHeightM, to.ellipsoidalHeightM];
  if (meanHeightM === null || elevationFactor === null || groundDistanceM === null || h1 === null || h2 === null)
    return [];
  return [
    {
      title: 'Elevation factor, and horizontal distance at the mean height',
      formula: 'EF = R / (R + h), R in the azimuth of the line (Euler), h above the ellipsoid;  ground = s / EF',
      substitution: [
        ...ellipsoidLines(ellipsoid),
        ...radiusLines(join, ellipsoid),
        together(given('h₁', h1, INPUT), given('h₂', h2, INPUT), worked('h', '(h₁ + h₂) / 2', meanHeightM, LENGTH)),
        worked('EF', 'R / (R + h)', elevationFactor, FACTOR),
        worked('ground', 's / EF', groundDistanceM, METRES),
      ],
      result: [`EF ${formatFixed(elevationFactor, 9)}; ground ${metres(groundDistanceM)}`],
      source: 'NOS-NGS-5, reduction of distances to the ellipsoid',
    },
  ];
}

/** The radius at the middle of the line; of points in one place, that of all directions together. */
function radiusLines(join: EllipsoidJoin, ellipsoid: Ellipsoid): readonly string[] {
  const { from, azimuthDeg, reverseAzimuthDeg, ellipsoidalDistanceM, radiusM } = join;
  if (azimuthDeg === null || reverseAzimuthDeg === null || ellipsoid.flattening === 0)
    return [given('R', radiusM, INPUT)];
  const middle = createGeodesic(ellipsoid).direct(
    from.latitudeDeg,
    from.longitudeDeg,
    azimuthDeg,
    ellipsoidalDistanceM / 2,
  );
  return [
    `at the middle: ${together(
      given('φ_m', middle.latitudeDeg, INPUT_ANGLE),
      given('α_m', middleAzimuthDeg(azimuthDeg, reverseAzimuthDeg), INPUT_ANGLE),
    )}`,
    together(
      worked(
        'ρ',
        'a·(1 − e²) / ((1 − e²·sin²φ_m)·√(1 − e²·sin²φ_m))',
        meridianRadiusM(ellipsoid, middle.latitudeDeg),
        LENGTH,
      ),
      worked('ν', 'a / √(1 − e²·sin²φ_m)', primeVerticalRadiusM(ellipsoid, middle.latitudeDeg), LENGTH),
    ),
    worked('R', 'ρ·ν / (ρ·sin²α_m + ν·cos²α_m)', radiusM, withDecimals(LENGTH, 3)),
  ];
}

function slopeSteps({ from, to, slopeDistanceM }: EllipsoidJoin, ellipsoid: Ellipsoid): readonly WorkingStep[] {
  const [h1, h2] = [from.ellipsoidalHeightM, to.ellipsoidalHeightM];
  if (slopeDistanceM === null || h1 === null || h2 === null) return [];
  const es = ellipsoid.flattening === 0 ? '' : '·(1 − e²)';
  const end = (
    at: string,
    latitudeDeg: number,
    longitudeDeg: number,
    ellipsoidalHeightM: number,
  ): readonly string[] => {
    const { xM, yM, zM } = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }, ellipsoid);
    const nu = ellipsoid.flattening === 0 ? 'a' : `a / √(1 − e²·sin²φ${at})`;
    return [
      worked(`ν${at}`, nu, primeVerticalRadiusM(ellipsoid, latitudeDeg), LENGTH),
      worked(`X${at}`, `(ν${at} + h${at})·cos φ${at}·cos λ${at}`, xM, LENGTH),
      worked(`Y${at}`, `(ν${at} + h${at})·cos φ${at}·sin λ${at}`, yM, LENGTH),
      worked(`Z${at}`, `(ν${at}${es} + h${at})·sin φ${at}`, zM, LENGTH),
    ];
  };
  return [
    {
      title: 'Slope distance, mark to mark',
      formula: 'straight line between the two geocentric positions',
      substitution: [
        ...end('₁', from.latitudeDeg, from.longitudeDeg, h1),
        ...end('₂', to.latitudeDeg, to.longitudeDeg, h2),
        worked('slope', '√((X₂ − X₁)² + (Y₂ − Y₁)² + (Z₂ − Z₁)²)', slopeDistanceM, METRES),
        worked('Δh', 'h₂ − h₁', h2 - h1, METRES),
      ],
      result: [`slope ${metres(slopeDistanceM)}`],
      source: 'IOGP-373-7-2, method 9602; docs/methods/geocentric.md',
    },
  ];
}

function heightSteps({ from, to, orthometricHeightDifferenceM }: EllipsoidJoin): readonly WorkingStep[] {
  const [h1, h2] = [from.orthometricHeightM, to.orthometricHeightM];
  if (orthometricHeightDifferenceM === null || h1 === null || h2 === null) return [];
  return [
    {
      title: 'Difference of orthometric heights',
      formula: 'ΔH = H₂ − H₁',
      substitution: [
        together(
          given('H₁', h1, INPUT),
          given('H₂', h2, INPUT),
          worked('ΔH', 'H₂ − H₁', orthometricHeightDifferenceM, METRES),
        ),
      ],
      result: [`ΔH ${metres(orthometricHeightDifferenceM)}`],
      source: 'docs/methods/geoid.md',
    },
  ];
}
