import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { signsOf } from '../../core/grid/systems/grid-axes.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { normaliseAzimuthDeg } from '../../core/numeric/angle-units.js';
import { formatDms } from '../../core/numeric/text/angle-text.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { EllipsoidJoin, PointJoin, Station } from '../../records/points/point-join.js';
import type { WorkingStep } from '../../records/working-step.js';
import { degrees, metres } from './explain-text.js';
import { lineHeightSteps } from './explain-line-heights.js';
import { geodesicLines } from './lines/geodesic-lines.js';
import {
  FACTOR,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  NUMBER,
  given,
  stated,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';
import type { NumberForm } from './lines/worked-lines.js';

const ARCSECONDS: NumberForm = { unit: '″', perOne: 1, decimals: 3 };
const BEARING = withDecimals(INPUT_ANGLE, 9);
/** A point scale factor that a mean is taken of. */
const SCALE = withDecimals(FACTOR, 12);

/** A join as a worked example, from the numbers the join itself holds. */
export function explainJoin(join: PointJoin, grid: GridSystem): readonly WorkingStep[] {
  return [
    endsStep(join.from, join.to, grid),
    gridStep(join, grid),
    geodesicStep(join, grid.base.ellipsoid),
    ...arcToChordSteps(join),
    ...scaleSteps(join),
    ...lineHeightSteps(join, grid.base.ellipsoid),
  ];
}

function endsStep(from: Station, to: Station, grid: GridSystem): WorkingStep {
  const [first, second] = grid.axes;
  const end = (station: Station): string =>
    `${station.pointId}: ${first.columnName} ${formatFixed(station.gridFirst, 4)}, ${second.columnName} ${formatFixed(station.gridSecond, 4)}${station.ellipsoidalHeightM === null ? '' : `, h ${metres(station.ellipsoidalHeightM)}`}${station.orthometricHeightM === null ? '' : `, H ${metres(station.orthometricHeightM)}`}`;
  const place = ({ latitudeDeg, longitudeDeg }: Station, at: string): string =>
    together(stated(`φ${at}`, latitudeDeg, INPUT_ANGLE, 9), stated(`λ${at}`, longitudeDeg, INPUT_ANGLE, 9));
  return {
    title: `The two points in ${grid.name}`,
    formula: `${grid.projection.method}, on ${grid.base.name}`,
    substitution: [place(from, '₁'), place(to, '₂')],
    result: [end(from), end(to)],
    source: 'docs/methods/grid-systems.md',
  };
}

function gridStep(join: PointJoin, grid: GridSystem): WorkingStep {
  const { from, to, gridBearingDeg } = join;
  const [first, second] = grid.axes;
  const [one, two] = [first.abbreviation, second.abbreviation];
  const [eastSign, northSign] = signsOf(grid.axes);
  const minus = (sign: 1 | -1): string => (sign < 0 ? '−' : '');
  const [d1, d2] = [to.gridFirst - from.gridFirst, to.gridSecond - from.gridSecond];
  const isTurned = Math.atan2(eastSign * d1, northSign * d2) < 0;
  const pair = (name: string, value: number): string => stated(name, value, withDecimals(NUMBER, 12), 4);
  const unit = first.metresPerUnit === 1 ? '' : '·u';
  const south =
    grid.southOrientated && gridBearingDeg !== null
      ? `, from south ${angle(normaliseAzimuthDeg(gridBearingDeg + 180))}`
      : '';
  return {
    title: 'Straight line on the grid',
    formula: `d = √(Δ${one}² + Δ${two}²);  bearing from grid north = atan2(Δeast, Δnorth)`,
    substitution: [
      together(pair(`${one}₁`, from.gridFirst), pair(`${two}₁`, from.gridSecond)),
      together(pair(`${one}₂`, to.gridFirst), pair(`${two}₂`, to.gridSecond)),
      `${together(worked(`Δ${one}`, `${one}₂ − ${one}₁`, d1, withDecimals(NUMBER, 6)), worked(`Δ${two}`, `${two}₂ − ${two}₁`, d2, withDecimals(NUMBER, 6)))} (${first.unitName})`,
      ...(unit === '' ? [] : [stated('u', first.metresPerUnit, withDecimals(LENGTH, 16))]),
      worked('d', `√(Δ${one}² + Δ${two}²)${unit}`, join.gridDistanceM, METRES),
      ...(gridBearingDeg === null
        ? []
        : [
            worked(
              'bearing',
              `atan2(${minus(eastSign)}Δ${one}, ${minus(northSign)}Δ${two})${isTurned ? ' + 360°' : ''}`,
              gridBearingDeg,
              BEARING,
            ),
          ]),
    ],
    result: [
      `d ${metres(join.gridDistanceM)}${gridBearingDeg === null ? '' : `, bearing ${angle(gridBearingDeg)}${south}`}`,
    ],
    source: 'docs/methods/join.md',
  };
}

function geodesicStep(join: EllipsoidJoin, ellipsoid: Ellipsoid): WorkingStep {
  const { from, to, azimuthDeg, reverseAzimuthDeg } = join;
  return {
    title: 'Geodesic on the ellipsoid',
    formula: `shortest line on ${ellipsoid.name}, solved without approximation`,
    substitution: [
      ...geodesicLines(ellipsoid, from, to, join.ellipsoidalDistanceM, { from: '₁', to: '₂' }),
      given('s', join.ellipsoidalDistanceM, INPUT),
    ],
    result: [
      `s ${metres(join.ellipsoidalDistanceM)}`,
      ...(azimuthDeg === null || reverseAzimuthDeg === null
        ? ['no azimuth: the points are closer than 0.1 mm']
        : [`azimuth ${angle(azimuthDeg)}, back ${angle(reverseAzimuthDeg)}`]),
    ],
    source: 'KARNEY-2013; VINCENTY-1975',
  };
}

function arcToChordSteps(join: PointJoin): readonly WorkingStep[] {
  const { from, to, azimuthDeg, reverseAzimuthDeg, gridBearingDeg, arcToChordFromArcsec, arcToChordToArcsec } = join;
  if (azimuthDeg === null || reverseAzimuthDeg === null || gridBearingDeg === null) return [];
  if (arcToChordFromArcsec === null || arcToChordToArcsec === null) return [];
  const back = normaliseAzimuthDeg(gridBearingDeg + 180);
  const correction = (at: string, bearing: number, azimuth: number, convergence: number, value: number): string => {
    const turns = Math.round((bearing - azimuth + convergence) / 360);
    const turned = turns === 0 ? '' : ` ${turns > 0 ? '−' : '+'} 360°`;
    return together(
      given(`t${at}`, bearing, INPUT_ANGLE),
      given(`α${at}`, azimuth, INPUT_ANGLE),
      given(`γ${at}`, convergence, INPUT_ANGLE),
      worked(`δ${at}`, `t${at} − (α${at} − γ${at})${turned}`, value, ARCSECONDS),
    );
  };
  return [
    {
      title: 'Convergence and arc-to-chord',
      formula: 'bearing of the projected geodesic = azimuth − γ;  correction = grid bearing − (azimuth − γ)',
      substitution: [
        `at ${from.pointId}: ${correction('₁', gridBearingDeg, azimuthDeg, join.convergenceFromDeg, arcToChordFromArcsec)}`,
        `at ${to.pointId}: ${correction('₂', back, reverseAzimuthDeg, join.convergenceToDeg, arcToChordToArcsec)}`,
      ],
      result: [
        `${formatFixed(arcToChordFromArcsec, 3)}″ at ${from.pointId}, ${formatFixed(arcToChordToArcsec, 3)}″ at ${to.pointId}`,
      ],
      source: 'GDA2020-TM, arc-to-chord correction',
    },
  ];
}

function scaleSteps(join: PointJoin): readonly WorkingStep[] {
  const { lineScaleFactor, pointScaleFactorFrom, pointScaleFactorMiddle, pointScaleFactorTo } = join;
  if (lineScaleFactor === null || pointScaleFactorFrom === null) return [];
  if (pointScaleFactorMiddle === null || pointScaleFactorTo === null) return [];
  const onGridM = join.ellipsoidalDistanceM * lineScaleFactor;
  return [
    {
      title: "Line scale factor (Simpson's rule)",
      formula: 'k = (k₁ + 4 kₘ + k₂) / 6, kₘ at the middle of the geodesic',
      substitution: [
        together(
          given('k₁', pointScaleFactorFrom, SCALE),
          given('k_m', pointScaleFactorMiddle, SCALE),
          given('k₂', pointScaleFactorTo, SCALE),
        ),
        worked('k', '(k₁ + 4·k_m + k₂) / 6', lineScaleFactor, FACTOR),
        worked('K', 's·k', onGridM, METRES),
      ],
      result: [
        `k ${formatFixed(lineScaleFactor, 9)}; s × k = ${metres(onGridM)}, and the straight grid line is ${metres(join.gridDistanceM)}`,
      ],
      source: 'GDA2020-TM, line scale factor',
    },
  ];
}

function angle(valueDeg: number): string {
  return `${degrees(valueDeg)} (${formatDms(valueDeg, 'any', 2)})`;
}
