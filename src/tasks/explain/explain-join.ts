import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { normaliseAzimuthDeg } from '../../core/numeric/angle-units.js';
import { formatDms } from '../../core/numeric/text/angle-text.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { PointJoin, Station } from '../../records/points/point-join.js';
import type { WorkingStep } from '../../records/working-step.js';
import { degrees, metres } from './explain-text.js';

const factor = (value: number): string => formatFixed(value, 9);
const arcsec = (value: number): string => `${formatFixed(value, 3)}″`;

/** A join as a worked example, from the numbers the join itself holds. */
export function explainJoin(join: PointJoin, grid: GridSystem): readonly WorkingStep[] {
  const { from, to } = join;
  const steps: WorkingStep[] = [endsStep(from, to, grid), gridStep(join, grid)];
  steps.push({
    title: 'Geodesic on the ellipsoid',
    formula: `shortest line on ${grid.base.ellipsoid.name}, solved without approximation`,
    substitution: [
      `from φ ${degrees(from.latitudeDeg)}, λ ${degrees(from.longitudeDeg)} to φ ${degrees(to.latitudeDeg)}, λ ${degrees(to.longitudeDeg)}`,
    ],
    result: [
      `s ${metres(join.ellipsoidalDistanceM)}`,
      ...(join.azimuthDeg === null || join.reverseAzimuthDeg === null
        ? ['no azimuth: the points are closer than 0.1 mm']
        : [`azimuth ${angle(join.azimuthDeg)}, back ${angle(join.reverseAzimuthDeg)}`]),
    ],
    source: 'KARNEY-2013',
  });
  if (
    join.azimuthDeg !== null &&
    join.gridBearingDeg !== null &&
    join.arcToChordFromArcsec !== null &&
    join.reverseAzimuthDeg !== null &&
    join.arcToChordToArcsec !== null
  ) {
    steps.push({
      title: 'Convergence and arc-to-chord',
      formula: 'bearing of the projected geodesic = azimuth − γ;  correction = grid bearing − (azimuth − γ)',
      substitution: [
        `at ${from.pointId}: ${degrees(join.gridBearingDeg)} − (${degrees(join.azimuthDeg)} − ${degrees(join.convergenceFromDeg)})`,
        `at ${to.pointId}: ${degrees(normaliseAzimuthDeg(join.gridBearingDeg + 180))} − (${degrees(join.reverseAzimuthDeg)} − ${degrees(join.convergenceToDeg)})`,
      ],
      result: [
        `${arcsec(join.arcToChordFromArcsec)} at ${from.pointId}, ${arcsec(join.arcToChordToArcsec)} at ${to.pointId}`,
      ],
      source: 'GDA2020-TM, arc-to-chord correction',
    });
  }
  if (
    join.lineScaleFactor !== null &&
    join.pointScaleFactorFrom !== null &&
    join.pointScaleFactorMiddle !== null &&
    join.pointScaleFactorTo !== null
  ) {
    steps.push({
      title: "Line scale factor (Simpson's rule)",
      formula: 'k = (k₁ + 4 kₘ + k₂) / 6, kₘ at the middle of the geodesic',
      substitution: [
        `(${factor(join.pointScaleFactorFrom)} + 4 × ${factor(join.pointScaleFactorMiddle)} + ${factor(join.pointScaleFactorTo)}) / 6`,
      ],
      result: [
        `k ${factor(join.lineScaleFactor)}; s × k = ${metres(join.ellipsoidalDistanceM * join.lineScaleFactor)}, and the straight grid line is ${metres(join.gridDistanceM)}`,
      ],
      source: 'GDA2020-TM, line scale factor',
    });
  }
  return [...steps, ...heightSteps(join)];
}

function endsStep(from: Station, to: Station, grid: GridSystem): WorkingStep {
  const [first, second] = grid.axes;
  const end = (station: Station): string =>
    `${station.pointId}: ${first.columnName} ${formatFixed(station.gridFirst, 4)}, ${second.columnName} ${formatFixed(station.gridSecond, 4)}${station.ellipsoidalHeightM === null ? '' : `, h ${metres(station.ellipsoidalHeightM)}`}${station.orthometricHeightM === null ? '' : `, H ${metres(station.orthometricHeightM)}`}`;
  return {
    title: `The two points in ${grid.name}`,
    formula: `${grid.projection.method}, on ${grid.base.name}`,
    substitution: [],
    result: [end(from), end(to)],
    source: 'docs/methods/grid-systems.md',
  };
}

function gridStep(join: PointJoin, grid: GridSystem): WorkingStep {
  const { from, to } = join;
  const [first, second] = grid.axes;
  const d1 = to.gridFirst - from.gridFirst;
  const d2 = to.gridSecond - from.gridSecond;
  const south =
    grid.southOrientated && join.gridBearingDeg !== null
      ? `, from south ${angle(normaliseAzimuthDeg(join.gridBearingDeg + 180))}`
      : '';
  return {
    title: 'Straight line on the grid',
    formula: `d = √(Δ${first.abbreviation}² + Δ${second.abbreviation}²);  bearing from grid north = atan2(Δeast, Δnorth)`,
    substitution: [
      `Δ${first.abbreviation} ${formatFixed(d1, 4)}, Δ${second.abbreviation} ${formatFixed(d2, 4)} (${first.unitName})`,
    ],
    result: [
      `d ${metres(join.gridDistanceM)}${join.gridBearingDeg === null ? '' : `, bearing ${angle(join.gridBearingDeg)}${south}`}`,
    ],
    source: 'docs/methods/join.md',
  };
}

function heightSteps(join: PointJoin): readonly WorkingStep[] {
  const {
    meanHeightM,
    elevationFactor,
    groundDistanceM,
    slopeDistanceM,
    ellipsoidalHeightDifferenceM,
    orthometricHeightDifferenceM,
  } = join;
  const steps: WorkingStep[] = [];
  if (meanHeightM !== null && elevationFactor !== null && groundDistanceM !== null) {
    steps.push({
      title: 'Elevation factor, and horizontal distance at the mean height',
      formula: 'EF = R / (R + h), R in the azimuth of the line (Euler), h above the ellipsoid;  ground = s / EF',
      substitution: [`R ${formatFixed(join.radiusM, 3)} m, h ${metres(meanHeightM)}`],
      result: [`EF ${factor(elevationFactor)}; ground ${metres(groundDistanceM)}`],
      source: 'NOS-NGS-5, reduction of distances to the ellipsoid',
    });
  }
  if (slopeDistanceM !== null && ellipsoidalHeightDifferenceM !== null) {
    steps.push({
      title: 'Slope distance, mark to mark',
      formula: 'straight line between the two geocentric positions',
      substitution: [`Δh ${metres(ellipsoidalHeightDifferenceM)}`],
      result: [`slope ${metres(slopeDistanceM)}`],
      source: 'docs/methods/geocentric.md',
    });
  }
  if (orthometricHeightDifferenceM !== null) {
    steps.push({
      title: 'Difference of orthometric heights',
      formula: 'ΔH = H₂ − H₁',
      substitution: [],
      result: [metres(orthometricHeightDifferenceM)],
      source: 'docs/methods/geoid.md',
    });
  }
  return steps;
}

function angle(valueDeg: number): string {
  return `${degrees(valueDeg)} (${formatDms(valueDeg, 'any', 2)})`;
}
