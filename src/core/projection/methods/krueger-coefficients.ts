import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';

/** The six coefficients of Krüger's series. */
export type KruegerCoefficients = readonly [number, number, number, number, number, number];

/** Third flattening n = (a − b) / (a + b). */
function thirdFlattening(ellipsoid: Ellipsoid): number {
  return ellipsoid.flattening / (2 - ellipsoid.flattening);
}

/** Radius of the circle whose circumference is that of the meridian ellipse, metres. KARNEY-2011, eq. 14. */
export function rectifyingRadiusM(ellipsoid: Ellipsoid): number {
  const n = thirdFlattening(ellipsoid);
  const n2 = n * n;
  return (ellipsoid.semiMajorAxisM / (1 + n)) * (1 + n2 * (1 / 4 + n2 * (1 / 64 + n2 / 256)));
}

/** α: conformal to rectified. Inverse: `inverseCoefficients`. Reference: KARNEY-2011, equation 35. */
export function forwardCoefficients(ellipsoid: Ellipsoid): KruegerCoefficients {
  const n = thirdFlattening(ellipsoid);
  const n2 = n * n;
  const n3 = n2 * n;
  const n4 = n2 * n2;
  const n5 = n4 * n;
  const n6 = n3 * n3;
  return [
    n / 2 - (2 / 3) * n2 + (5 / 16) * n3 + (41 / 180) * n4 - (127 / 288) * n5 + (7891 / 37800) * n6,
    (13 / 48) * n2 - (3 / 5) * n3 + (557 / 1440) * n4 + (281 / 630) * n5 - (1983433 / 1935360) * n6,
    (61 / 240) * n3 - (103 / 140) * n4 + (15061 / 26880) * n5 + (167603 / 181440) * n6,
    (49561 / 161280) * n4 - (179 / 168) * n5 + (6601661 / 7257600) * n6,
    (34729 / 80640) * n5 - (3418889 / 1995840) * n6,
    (212378941 / 319334400) * n6,
  ];
}

/** β: rectified to conformal. Inverse: `forwardCoefficients`. Reference: KARNEY-2011, equation 36. */
export function inverseCoefficients(ellipsoid: Ellipsoid): KruegerCoefficients {
  const n = thirdFlattening(ellipsoid);
  const n2 = n * n;
  const n3 = n2 * n;
  const n4 = n2 * n2;
  const n5 = n4 * n;
  const n6 = n3 * n3;
  return [
    n / 2 - (2 / 3) * n2 + (37 / 96) * n3 - (1 / 360) * n4 - (81 / 512) * n5 + (96199 / 604800) * n6,
    n2 / 48 + n3 / 15 - (437 / 1440) * n4 + (46 / 105) * n5 - (1118711 / 3870720) * n6,
    (17 / 480) * n3 - (37 / 840) * n4 - (209 / 4480) * n5 + (5569 / 90720) * n6,
    (4397 / 161280) * n4 - (11 / 504) * n5 - (830251 / 7257600) * n6,
    (4583 / 161280) * n5 - (108847 / 3991680) * n6,
    (20648693 / 638668800) * n6,
  ];
}
