import { designOf, gridOfDesign, isHardlyOblique, pointsExtent, ratiosOf } from '../../core/grid/design/design-grid.js';
import type { DesignCandidate, DesignPoint, PointsExtent } from '../../core/grid/design/design-grid.js';
import type { DistortionMeasure } from '../../core/grid/design/best-scale.js';
import { DESIGN_METHODS, designProjString, designWkt } from '../../core/grid/design/design-text.js';
import type { DesignMethod, GridDesign } from '../../core/grid/design/design-text.js';
import { falseOrigins } from '../../core/grid/design/false-origins.js';
import type { FalseOrigins, Span } from '../../core/grid/design/false-origins.js';
import { elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../core/grid/factors/grid-factors.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Station } from '../../records/points/point-join.js';
import { present } from '../../records/present.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** A grid is asked for. */
export interface DesignRequest {
  readonly stations: readonly Station[];
  /** The system of the points: its frame is that of the grid, and its coordinates are not to be taken for those of it. */
  readonly grid: GridSystem;
  /** Null: chosen. */
  readonly method: DesignMethod | null;
  readonly measure: DistortionMeasure;
  /** What the range of heights alone may cost before it is warned of, ppm. */
  readonly heightLimitPpm: number;
  readonly name: string;
}

/** A point on the grid that was designed. */
export interface DesignedPoint {
  readonly station: Station;
  readonly eastingM: number;
  readonly northingM: number;
  readonly heightM: number;
  readonly radiusM: number;
  readonly pointScaleFactor: number;
  readonly elevationFactor: number;
  readonly convergenceDeg: number;
  /** k R/(R + h) − 1: grid length over ground length, minus 1. */
  readonly distortion: number;
}

/** A grid, and what it is worth. */
export interface DesignRun {
  readonly design: GridDesign;
  readonly origins: FalseOrigins;
  readonly name: string;
  readonly proj: string;
  readonly wkt: string;
  readonly extent: PointsExtent;
  readonly measure: DistortionMeasure;
  /** Each method that can be computed there; the distortion of each by the measure. */
  readonly candidates: readonly DesignCandidate[];
  readonly distortion: number;
  readonly points: readonly DesignedPoint[];
  /** Least and most of k₁ R/(R + h). */
  readonly ratios: Span;
  /** Half of what the range of heights costs. */
  readonly heightCost: number;
  readonly heightsAreOrthometric: boolean;
}

/** Another method is taken only where it is better than that of the long axis by this much, and by this part. */
const LEAST_GAIN = 0.5e-6;
const LEAST_GAIN_PART = 0.05;
/** A long axis closer to a meridian or a parallel than this is along it, degrees. */
const ALONG_DEG = 20;
/** Spread across over spread along, above which points have no long axis. */
const ROUND = 0.7;

/**
 * Designs a project grid on the ground for points: method, central line, scale, false origins.
 *
 * Problems: value-missing for a point without a height; csv-empty without points; design-impossible. Warnings: design-height-range,
 * design-heights for orthometric heights in place of ellipsoidal ones.
 */
export function runDesign(request: DesignRequest): Outcome<DesignRun> {
  const { stations, grid, measure } = request;
  const { base } = grid;
  const placed = heightsOf(stations);
  if (!placed.ok) return placed;
  const { points, heightsAreOrthometric } = placed.value;
  const extent = pointsExtent(points);
  const methods = request.method === null ? DESIGN_METHODS : [request.method];
  const candidates = methods.flatMap((method) => designOf(points, base, method, measure) ?? []);
  const chosen = chosenOf(candidates, extent);
  if (chosen === null) return failure(impossible(`no ${methods.join(', ')} can be computed over the points`));
  const origins = originsOf(chosen.design, stations, grid);
  if (origins === null)
    return failure(impossible('no false origins keep its coordinates apart from those of the system of the points'));
  const design = { ...chosen.design, falseEastingM: origins.falseEastingM, falseNorthingM: origins.falseNorthingM };
  const ratios = present(ratiosOf(points, design, base), 'the ratios of a design that was computed');
  const heightCost = heightCostOf(points, base.ellipsoid);
  const warnings: Problem[] = [];
  if (heightsAreOrthometric) warnings.push(orthometricWarning());
  if (heightCost * 1e6 > request.heightLimitPpm) warnings.push(heightWarning(heightCost, request.heightLimitPpm));
  return success(
    {
      design,
      origins,
      name: request.name,
      proj: designProjString(design, base.ellipsoid),
      wkt: designWkt(design, base, request.name),
      extent,
      measure,
      candidates,
      distortion: chosen.distortion,
      points: designedPoints(stations, points, design, grid),
      ratios: [smallestOf(ratios), largestOf(ratios)],
      heightCost,
      heightsAreOrthometric,
    },
    warnings,
  );
}

/** Ellipsoidal heights; where none is known at any point, orthometric ones. */
function heightsOf(
  stations: readonly Station[],
): Outcome<{ readonly points: readonly DesignPoint[]; readonly heightsAreOrthometric: boolean }> {
  const [first] = stations;
  if (first === undefined)
    return failure(
      errorProblem('csv-empty', { message: 'there are no points to make a grid for', hint: 'name a file with points' }),
    );
  const heightsAreOrthometric = stations.every(({ ellipsoidalHeightM }) => ellipsoidalHeightM === null);
  const points: DesignPoint[] = [];
  for (const station of stations) {
    const { latitudeDeg, longitudeDeg } = station;
    const ellipsoidalHeightM = heightsAreOrthometric ? station.orthometricHeightM : station.ellipsoidalHeightM;
    if (ellipsoidalHeightM === null)
      return failure(
        errorProblem('value-missing', {
          message: `${station.pointId} has no ${heightsAreOrthometric ? '' : 'ellipsoidal '}height: distortion on the ground depends on it`,
          hint: 'give ellipsoidal_height_m, or orthometric heights and --geoid',
        }),
      );
    points.push({ latitudeDeg, longitudeDeg, ellipsoidalHeightM });
  }
  return success({ points, heightsAreOrthometric });
}

/** The method that the long axis asks for, unless another is clearly better or its line would lie along a meridian or a parallel. */
function chosenOf(candidates: readonly DesignCandidate[], { azimuthDeg, ratio }: PointsExtent): DesignCandidate | null {
  const fromMeridian = Math.min(azimuthDeg, 180 - azimuthDeg);
  const wanted: DesignMethod =
    ratio > ROUND || fromMeridian <= ALONG_DEG
      ? 'transverse-mercator'
      : fromMeridian >= 90 - ALONG_DEG
        ? 'lambert'
        : 'oblique-mercator';
  const own = candidates.find(({ design }) => design.method === wanted && !isHardlyOblique(design)) ?? null;
  return candidates.reduce<DesignCandidate | null>((best, one) => {
    if (best === null) return one;
    const gain = best.distortion - one.distortion;
    return gain > LEAST_GAIN && gain > LEAST_GAIN_PART * best.distortion ? one : best;
  }, own);
}

function originsOf(design: GridDesign, stations: readonly Station[], grid: GridSystem): FalseOrigins | null {
  const own = gridOfDesign(design, grid.base);
  if (own === null) return null;
  const out = emptyGridPairAndFactors();
  const [east, north]: [number[], number[]] = [[], []];
  for (const { latitudeDeg, longitudeDeg } of stations) {
    if (own.forward(latitudeDeg, longitudeDeg, out) !== 'ok') return null;
    east.push(out.first);
    north.push(out.second);
  }
  const span = (values: readonly number[], scale = 1): Span => [smallestOf(values) * scale, largestOf(values) * scale];
  return falseOrigins(span(east), span(north), [
    span(
      stations.map(({ gridFirst }) => gridFirst),
      grid.axes[0].metresPerUnit,
    ),
    span(
      stations.map(({ gridSecond }) => gridSecond),
      grid.axes[1].metresPerUnit,
    ),
  ]);
}

function designedPoints(
  stations: readonly Station[],
  points: readonly DesignPoint[],
  design: GridDesign,
  { base }: GridSystem,
): readonly DesignedPoint[] {
  const own = present(gridOfDesign(design, base), 'the grid of a design that was computed');
  const out = emptyGridPairAndFactors();
  return stations.map((station, at) => {
    const { latitudeDeg, longitudeDeg } = station;
    const heightM = present(points[at], 'the height of a station').ellipsoidalHeightM;
    own.forwardWithFactors(latitudeDeg, longitudeDeg, out);
    const radiusM = gaussRadiusM(base.ellipsoid, latitudeDeg);
    const pointScaleFactor = present(out.pointScaleFactor, 'the scale of a conformal grid');
    const elevation = elevationFactor(radiusM, heightM);
    return {
      station,
      eastingM: out.first,
      northingM: out.second,
      heightM,
      radiusM,
      pointScaleFactor,
      elevationFactor: elevation,
      convergenceDeg: out.convergenceDeg,
      distortion: pointScaleFactor * elevation - 1,
    };
  });
}

/** Half of what lengths at the lowest and the highest point differ by: no projection of the place makes less of it. */
function heightCostOf(points: readonly DesignPoint[], ellipsoid: GridSystem['base']['ellipsoid']): number {
  const factors = points.map(({ latitudeDeg, ellipsoidalHeightM }) =>
    elevationFactor(gaussRadiusM(ellipsoid, latitudeDeg), ellipsoidalHeightM),
  );
  const [least, most] = [smallestOf(factors), largestOf(factors)];
  return (most - least) / (most + least);
}

function impossible(message: string): Problem {
  return errorProblem('design-impossible', {
    message,
    hint: 'state another --method, or make grids for parts of the area',
  });
}

function orthometricWarning(): Problem {
  return warningProblem('design-heights', {
    message:
      'orthometric heights stand in for ellipsoidal ones: each metre between the two is 0.157 ppm in every distortion',
    hint: 'give ellipsoidal_height_m, or --geoid',
  });
}

function heightWarning(cost: number, limitPpm: number): Problem {
  return warningProblem('design-height-range', {
    message: `the range of the heights alone costs ${formatFixed(cost * 1e6, 1)} ppm at the lowest and the highest point, and ${formatFixed(limitPpm, 1)} are allowed: no one grid does better there by its scale`,
    hint: 'make grids for parts of the area at like heights, or reduce lengths point by point',
  });
}
