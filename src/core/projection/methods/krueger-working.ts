import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { forwardCoefficients, rectifyingRadiusM } from './krueger-coefficients.js';

/** One term of Krüger's series. */
export interface KruegerTerm {
  /** j, 1 to 6. */
  readonly order: number;
  readonly alpha: number;
  /** α sin 2jξ′ cosh 2jη′, which is added to ξ′. */
  readonly north: number;
  /** α cos 2jξ′ sinh 2jη′, which is added to η′. */
  readonly east: number;
  /** 2jα cos 2jξ′ cosh 2jη′ and 2jα sin 2jξ′ sinh 2jη′: of the derivative. */
  readonly alongDerivative: number;
  readonly acrossDerivative: number;
}

/** Transverse Mercator at one place, number by number; angles in radians. */
export interface KruegerWorking {
  /** Third flattening. */
  readonly thirdFlattening: number;
  readonly rectifyingRadiusM: number;
  readonly eccentricity: number;
  /** Tangent of the conformal latitude. */
  readonly conformalTangent: number;
  /** ξ′ and η′ on the sphere, ξ and η with the series added. */
  readonly xiPrime: number;
  readonly etaPrime: number;
  readonly terms: readonly KruegerTerm[];
  readonly xi: number;
  readonly eta: number;
  /** Real and imaginary part of the derivative of the series. */
  readonly p: number;
  readonly q: number;
}

/**
 * The intermediate values of Krüger's series, each term by itself, for the worked explanation. `createTransverseMercator`
 * sums the same series by Clenshaw's recurrence and keeps none of them; a test holds the two together.
 *
 * Given: the ellipsoid; geodetic latitude and longitude from the central meridian, radians, within 60° of arc of that meridian.
 *
 * Reference: KARNEY-2011, equations 7–12, 23–36.
 */
export function kruegerWorking(
  ellipsoid: Ellipsoid,
  latitudeRad: number,
  longitudeDifferenceRad: number,
): KruegerWorking {
  const eccentricity = Math.sqrt(ellipsoid.eccentricitySquared);
  const sinPhi = Math.sin(latitudeRad);
  const cosDl = Math.cos(longitudeDifferenceRad);
  const conformalTangent = Math.sinh(Math.atanh(sinPhi) - eccentricity * Math.atanh(eccentricity * sinPhi));
  const xiPrime = Math.atan2(conformalTangent, cosDl);
  const etaPrime = Math.asinh(
    Math.sin(longitudeDifferenceRad) / Math.sqrt(conformalTangent * conformalTangent + cosDl * cosDl),
  );
  const terms = forwardCoefficients(ellipsoid).map((alpha, index): KruegerTerm => {
    const order = index + 1;
    const [sin, cos] = [Math.sin(2 * order * xiPrime), Math.cos(2 * order * xiPrime)];
    const [sinh, cosh] = [Math.sinh(2 * order * etaPrime), Math.cosh(2 * order * etaPrime)];
    return {
      order,
      alpha,
      north: alpha * sin * cosh,
      east: alpha * cos * sinh,
      alongDerivative: 2 * order * alpha * cos * cosh,
      acrossDerivative: 2 * order * alpha * sin * sinh,
    };
  });
  const sum = (of: (term: KruegerTerm) => number): number => terms.reduce((total, term) => total + of(term), 0);
  return {
    thirdFlattening: ellipsoid.flattening / (2 - ellipsoid.flattening),
    rectifyingRadiusM: rectifyingRadiusM(ellipsoid),
    eccentricity,
    conformalTangent,
    xiPrime,
    etaPrime,
    terms,
    xi: xiPrime + sum(({ north }) => north),
    eta: etaPrime + sum(({ east }) => east),
    p: 1 + sum(({ alongDerivative }) => alongDerivative),
    q: sum(({ acrossDerivative }) => acrossDerivative),
  };
}
