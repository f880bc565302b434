import { fitSimilarity } from '../../../core/adjustment/fit-similarity.js';
import type { DiagnosisInput } from '../../../core/adjustment/site/site-diagnosis.js';
import { diagnosisSigmas } from '../../../core/adjustment/site/site-levels.js';
import type { VarianceFactor } from '../../../core/adjustment/variance-factor.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { radiansToDegrees } from '../../../core/numeric/angle-units.js';
import type { FittedSite } from '../fit-site.js';
import { otherZones } from './other-zones.js';
import type { VerticalFit } from '../vertical-fit.js';
import { entryAt, present } from '../../../records/present.js';

/** What the diagnosis of a site looks at, from its fit and the grid it was fitted to. */
export function diagnosisInput(fitted: FittedSite, grid: GridSystem): DiagnosisInput {
  const { horizontal, horizontalFactor, horizontalPairs, expected, exchange, curvature } = fitted;
  const { similarity, cofactor, adjustment } = horizontal;
  const sigma = (i: number): number => Math.sqrt(Math.max(0, entryAt(cofactor, i * 5)) * horizontalFactor.applied);
  const squares = (residuals: Float64Array): number =>
    residuals.subarray(0, 2 * horizontalPairs.length).reduce((sum, v) => sum + v * v, 0);
  const rms = (residuals: Float64Array): number => Math.sqrt(squares(residuals) / horizontalPairs.length);
  const mirrored = mirroredFit(fitted);
  return {
    points: horizontalPairs.length,
    scale: similarity.scale,
    scaleSigma: sigma(3),
    scaleIsFree: horizontal.scaleIsFree,
    rotationDeg: radiansToDegrees(similarity.rotationRad),
    rotationSigmaDeg: radiansToDegrees(sigma(2)),
    shiftEastM: similarity.targetOrigin.eastM - similarity.sourceOrigin.eastM,
    shiftNorthM: similarity.targetOrigin.northM - similarity.sourceOrigin.northM,
    shiftSigmaM: Math.hypot(sigma(0), sigma(1)),
    planSigmas: diagnosisSigmas(estimatedWith(horizontalFactor, fitted.sigmasAreStated, adjustment.redundancy)),
    rmsM: rms(adjustment.residuals),
    mirroredRmsM: typeof mirrored === 'string' ? null : rms(mirrored.adjustment.residuals),
    exchange,
    coordinateSigmaM:
      adjustment.redundancy < 1 ? null : Math.sqrt(squares(adjustment.residuals) / adjustment.redundancy),
    statedSigmaM: fitted.sigmasAreStated ? Math.sqrt(meanStatedVarianceM2(fitted)) : null,
    pointScaleFactor: expected.pointScaleFactor,
    combinedFactor: expected.combinedFactor,
    convergenceDeg: expected.convergenceDeg,
    convergenceRangeDeg: expected.convergenceRangeDeg,
    otherZones: otherZones(
      grid,
      horizontalPairs.map((pair) => ({
        latitudeDeg: pair.measured.station.latitudeDeg,
        longitudeDeg: pair.measured.station.longitudeDeg,
        control: pair.target ?? pair.source,
      })),
    ),
    isCurved: curvature?.isCurved === true,
    height: heightDiagnosis(fitted),
  };
}

/** The fit to the control as its mirror image, every place of the same weight. */
function mirroredFit({ horizontalPairs }: FittedSite): ReturnType<typeof fitSimilarity> {
  const points = horizontalPairs.map(({ source, target: stated }) => {
    const target = stated ?? source;
    return {
      source,
      target: { eastM: -target.eastM, northM: target.northM },
      sourceCovariance: { xx: 0, xy: 0, yy: 0 },
      targetCovariance: { xx: 1, xy: 0, yy: 1 },
    };
  });
  return fitSimilarity(points, null);
}

function meanStatedVarianceM2({ horizontalPairs }: FittedSite): number {
  const sum = horizontalPairs.reduce(
    (total, { sourceCovariance: s, targetCovariance: t }) => total + s.xx + s.yy + t.xx + t.yy,
    0,
  );
  return sum / (2 * horizontalPairs.length);
}

/** Offset, and slopes in metres a km, of either fit; the cofactor in the same, of so many unknowns. */
function planeOf(vertical: VerticalFit): {
  readonly offsetM: number;
  readonly slopeEast: number;
  readonly slopeNorth: number;
  readonly cofactor: readonly number[];
  readonly size: number;
} {
  if (vertical.kind === 'surface') {
    const { coefficients, cofactor } = vertical.surface;
    // An offset has no slope.
    const [offsetM, slopeEast = 0, slopeNorth = 0] = coefficients;
    return { offsetM: present(offsetM, 'offset'), slopeEast, slopeNorth, cofactor, size: coefficients.length };
  }
  const { plane, cofactor } = vertical;
  const perKm = (entry: number, i: number): number => entry * (i % 3 > 0 ? 1000 : 1) * (i > 2 ? 1000 : 1);
  return {
    offsetM: plane.offsetM,
    slopeEast: plane.slopeEast * 1000,
    slopeNorth: plane.slopeNorth * 1000,
    cofactor: cofactor.map(perKm),
    size: 3,
  };
}

/** What the diagnosis looks at in height; null without a fit there. */
function heightDiagnosis({ vertical, verticalFactor, heightSigmasAreStated }: FittedSite): DiagnosisInput['height'] {
  if (vertical === null) return null;
  const { adjustment } = vertical;
  const { offsetM, slopeEast, slopeNorth, cofactor, size } = planeOf(vertical);
  const sigma = (i: number): number =>
    i < size ? Math.sqrt(Math.max(0, entryAt(cofactor, i * (size + 1))) * (verticalFactor?.applied ?? 1)) : 0;
  return {
    offsetM,
    offsetSigmaM: sigma(0),
    slopeMmPerKm: Math.hypot(slopeEast, slopeNorth) * 1000,
    slopeSigmaMmPerKm: Math.max(sigma(1), sigma(2)) * 1000,
    sigmas: diagnosisSigmas(
      verticalFactor === null ? null : estimatedWith(verticalFactor, heightSigmasAreStated, adjustment.redundancy),
    ),
  };
}

/** The redundancy that sigmas rest on; null where they are known: stated and borne out, or put in place of residuals too small. */
function estimatedWith(factor: VarianceFactor, areStated: boolean, redundancy: number): number | null {
  return redundancy < 1 || factor.isFloored || (areStated && !factor.isExceeded) ? null : redundancy;
}
