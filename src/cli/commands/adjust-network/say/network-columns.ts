import { height95M } from '../../../../core/observation/uncertainty/height-95.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import type { NetworkObservationResult, NetworkPoint } from '../../../../records/reports/network-report.js';
import type { RecordColumn } from '../../../outputs/record-writer.js';
import { ellipseAzimuthDeg } from '../../../../tasks/network/ellipse-azimuth.js';
import type { ObservationPlace } from '../../../../records/network-rows.js';
import { VERDICT_OF_POINTS } from '../../../../records/points/verdict-of-points.js';

/** Decimals of geocentric coordinates and of residuals: a micrometre, so that adjustments can be compared. */
const FINE = 6;
/** Decimals of a redundancy. */
const SHARE = 5;
/** Decimals of w and of a test. */
const TEST = 4;

const text = (name: string): RecordColumn => ({ name, kind: 'text' });
const list = (name: string): RecordColumn => ({ name, kind: 'list' });
const number = (name: string): RecordColumn => ({ name, kind: 'number' });
const cell = (value: number | null | undefined, decimals: number): string =>
  value === null || value === undefined ? '' : formatFixed(value, decimals);

/** Columns of adjusted points, in order. */
export function networkPointColumns(grid: GridSystem | null): readonly RecordColumn[] {
  return [
    text('point_id'),
    ...(grid === null ? [] : [number(grid.axes[0].columnName), number(grid.axes[1].columnName)]),
    ...['orthometric_height_m', 'latitude_deg', 'longitude_deg', 'ellipsoidal_height_m', 'geoid_height_m'].map(number),
    ...(grid === null
      ? []
      : ['point_scale_factor', 'elevation_factor', 'combined_factor', 'convergence_deg'].map(number)),
    ...[
      'sigma_east_m',
      'sigma_north_m',
      'sigma_up_m',
      'correlation_en',
      'ellipse_major_95_m',
      'ellipse_minor_95_m',
      'ellipse_azimuth_deg',
      'circle_95_m',
      'vertical_95_m',
    ].map(number),
    text('verdict'),
    list('reasons'),
    ...['x_m', 'y_m', 'z_m', 'redundancy', 'largest_w', 'minimal_detectable_bias_m', 'external_reliability_m'].map(
      number,
    ),
    text('nearest_control'),
    number('relative_circle_95_m'),
    number('relative_vertical_95_m'),
    text('checked'),
  ];
}

/** The cells of a point under `networkPointColumns`. */
export function networkPointCells(point: NetworkPoint, grid: GridSystem | null): readonly string[] {
  const m = (value: number | null | undefined): string => cell(value, DECIMALS.metres);
  const { covariance, summary, geodetic, position } = point;
  const east = covariance === null ? null : Math.sqrt(Math.max(0, covariance.eeM2));
  const north = covariance === null ? null : Math.sqrt(Math.max(0, covariance.nnM2));
  // Without a covariance there is nothing to divide, and no correlation is written.
  const product = (east ?? 0) * (north ?? 0);
  return [
    point.id,
    ...(grid === null ? [] : [m(point.gridFirst), m(point.gridSecond)]),
    m(point.orthometricHeightM),
    cell(geodetic?.latitudeDeg, DECIMALS.degrees),
    cell(geodetic?.longitudeDeg, DECIMALS.degrees),
    m(geodetic?.ellipsoidalHeightM),
    m(point.geoidHeightM),
    ...(grid === null
      ? []
      : [
          cell(point.factors?.pointScale, DECIMALS.factor),
          cell(point.factors?.elevation, DECIMALS.factor),
          cell(point.factors?.combined, DECIMALS.factor),
          cell(point.factors?.convergenceDeg, DECIMALS.convergence),
        ]),
    m(east),
    m(north),
    m(point.sigmaUpM),
    covariance === null ? '' : formatFixed(product > 0 ? covariance.enM2 / product : 0, DECIMALS.correlation),
    m(summary?.ellipseMajor95M),
    m(summary?.ellipseMinor95M),
    cell(summary === null ? null : ellipseAzimuthDeg(summary), DECIMALS.ppm),
    m(summary?.circle95M),
    m(height95M(summary, point.sigmaUpM)),
    VERDICT_OF_POINTS[point.verdict],
    point.reasons.join(';'),
    cell(position?.xM, FINE),
    cell(position?.yM, FINE),
    cell(position?.zM, FINE),
    cell(point.redundancy, SHARE),
    cell(point.largestW, TEST),
    m(point.minimalDetectableBiasM),
    m(point.externalReliabilityM),
    // An empty cell: no control has a place.
    point.nearestControl ?? '',
    m(point.relativeCircle95M),
    m(point.relativeVertical95M),
    point.isChecked ? 'yes' : 'no',
  ];
}

const AXES = ['x', 'y', 'z'] as const;

/** Columns of observations, in order; of a single number only those of x are filled. */
export const OBSERVATION_COLUMNS: readonly RecordColumn[] = [
  text('kind'),
  text('from_id'),
  text('to_id'),
  ...AXES.map((axis) => number(`residual_${axis}_m`)),
  ...AXES.map((axis) => number(`redundancy_${axis}`)),
  ...AXES.map((axis) => number(`w_${axis}`)),
  number('block_test'),
  ...AXES.map((axis) => number(`estimated_bias_${axis}_m`)),
  text('verdict'),
  list('reasons'),
  text('source'),
  number('line'),
];

/** The cells of an observation under `OBSERVATION_COLUMNS`. */
export function observationCells(row: NetworkObservationResult, place: ObservationPlace): readonly string[] {
  const three = (values: readonly (number | null)[], decimals: number): readonly string[] =>
    [0, 1, 2].map((k) => cell(values[k], decimals));
  return [
    row.kind,
    row.fromId,
    row.toId,
    ...three(row.residualsM, FINE),
    ...three(row.redundancy, SHARE),
    ...three(row.w, TEST),
    cell(row.blockTest, TEST),
    ...three(row.estimatedBiasM, FINE),
    row.verdict,
    row.reasons.join(';'),
    place.source,
    String(place.line),
  ];
}
