import { clampedSqrt } from '../../../core/numeric/clamped.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { ControlRole, PointRow } from '../../../records/points/point-row.js';
import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import { DECIMALS } from '../columns/cells/decimals.js';
import type { AxisNames } from './point-row-columns.js';

/** A column of reduced points: read into a `PointRow` where it has `put`, else only carried on request. */
export type PointColumn = Column<PointRow, ReducedPoint>;

const HEIGHT_RANGE = [-12_000, 100_000] as const;
const SIGMA_RANGE = [0, 1e6] as const;
const SIGMA = 'one sigma along true east, true north and up';
const ELLIPSE = 'semi-axes of the 95 % ellipse';

/** Columns of reduced points before the grid pair, in order. */
const BEFORE_GRID: readonly PointColumn[] = [
  column({
    name: 'point_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.pointId = id),
    get: (point) => point.pointId,
    describe: 'identifier of the point',
  }),
  column({
    name: 'occupation',
    kind: 'id',
    put: (row, occupation) => (row.occupation = occupation),
    get: (point) => point.occupation,
    describe: '`1`, `2`, … of the point; `1+2` combined',
  }),
  column({
    name: 'code',
    kind: 'text',
    put: (row, code) => (row.code = code),
    get: (point) => point.code,
    describe: 'feature code',
  }),
];

const PAIR = 'the grid pair, named by the axes and the unit of the system';

/** The two columns of the grid, which are read together: see `createPointRow`. */
function gridColumns(pair: AxisNames): readonly PointColumn[] {
  return [
    column({
      name: pair[0],
      kind: 'number',
      decimals: DECIMALS.metres,
      range: [-1e9, 1e9],
      get: ({ position }) => (position === null ? null : position.gridFirst),
      describe: PAIR,
    }),
    column({
      name: pair[1],
      kind: 'number',
      decimals: DECIMALS.metres,
      range: [-1e9, 1e9],
      get: ({ position }) => (position === null ? null : position.gridSecond),
      describe: PAIR,
    }),
  ];
}

/** Columns of reduced points after the grid pair, in order. Latitude and longitude are read together, like the pair. */
const AFTER_GRID: readonly PointColumn[] = [
  column({
    name: 'orthometric_height_m',
    kind: 'number',
    unit: 'm',
    range: HEIGHT_RANGE,
    isOfPlace: true,
    put: (row, height) => (row.orthometricHeightM = height),
    get: ({ position }) => (position === null ? null : position.orthometricHeightM),
    describe: 'height above the geoid',
  }),
  column({
    name: 'latitude_deg',
    kind: 'latitude',
    unit: 'deg',
    isOfPlace: true,
    get: ({ position }) => (position === null ? null : position.geodetic.latitudeDeg),
    describe: 'latitude, north positive',
  }),
  column({
    name: 'longitude_deg',
    kind: 'longitude',
    unit: 'deg',
    isOfPlace: true,
    get: ({ position }) => (position === null ? null : position.geodetic.longitudeDeg),
    describe: 'longitude, east positive',
  }),
  column({
    name: 'ellipsoidal_height_m',
    kind: 'number',
    unit: 'm',
    range: HEIGHT_RANGE,
    isOfPlace: true,
    put: (row, height) => (row.ellipsoidalHeightM = height),
    get: ({ position }) => (position === null ? null : position.geodetic.ellipsoidalHeightM),
    describe: 'height above the ellipsoid',
  }),
  column({
    name: 'geoid_height_m',
    kind: 'number',
    unit: 'm',
    range: [-200, 200],
    isOfPlace: true,
    put: (row, height) => (row.geoidHeightM = height),
    get: ({ position }) => (position === null ? null : position.geoidHeightM),
    describe: 'geoid above the ellipsoid',
  }),
  column({
    name: 'point_scale_factor',
    kind: 'number',
    decimals: DECIMALS.factor,
    isOfPlace: true,
    get: ({ position }) => (position === null ? null : position.pointScaleFactor),
    describe: 'scale of the projection at the point',
  }),
  column({
    name: 'elevation_factor',
    kind: 'number',
    decimals: DECIMALS.factor,
    isOfPlace: true,
    get: ({ position }) => (position === null ? null : position.elevationFactor),
    describe: 'ellipsoid over ground at the height of the point',
  }),
  column({
    name: 'combined_factor',
    kind: 'number',
    decimals: DECIMALS.factor,
    range: [0.5, 2],
    isOfPlace: true,
    put: (row, factor) => (row.combinedFactor = factor),
    get: ({ position }) => (position === null ? null : position.combinedFactor),
    describe: 'product of the two: grid over ground',
  }),
  column({
    name: 'convergence_deg',
    kind: 'number',
    unit: 'deg',
    decimals: DECIMALS.convergence,
    isOfPlace: true,
    get: ({ position }) => (position === null ? null : position.convergenceDeg),
    describe: 'grid north from true north, east positive',
  }),
  column({
    name: 'base_id',
    kind: 'id',
    put: (row, id) => (row.baseId = id),
    get: (point) => point.baseId,
    describe: 'base of the corrections',
  }),
  column({
    name: 'baseline_m',
    kind: 'number',
    unit: 'm',
    range: [0, 1e8],
    put: (row, baseline) => (row.baselineM = baseline),
    get: ({ baseline }) => (baseline === null ? null : baseline.distanceM),
    describe: 'distance from the base along the ellipsoid',
  }),
  column({
    name: 'baseline_azimuth_deg',
    kind: 'number',
    unit: 'deg',
    decimals: DECIMALS.azimuth,
    range: [-360, 360],
    put: (row, azimuth) => (row.baselineAzimuthDeg = azimuth),
    get: ({ baseline }) => (baseline === null ? null : baseline.azimuthDeg),
    describe: 'at the base, clockwise from true north',
  }),
  column({
    name: 'baseline_height_difference_m',
    kind: 'number',
    unit: 'm',
    range: [-1e6, 1e6],
    put: (row, difference) => (row.baselineHeightDifferenceM = difference),
    get: ({ baseline }) => (baseline === null ? null : baseline.heightDifferenceM),
    describe: 'point minus base, ellipsoidal heights',
  }),
  column({
    name: 'first_epoch_utc',
    kind: 'time',
    put: (row, ms) => (row.firstEpochMs = ms),
    get: (point) => point.firstEpochMs,
    describe: 'first and last epoch used, or of all where none was',
  }),
  column({
    name: 'last_epoch_utc',
    kind: 'time',
    put: (row, ms) => (row.lastEpochMs = ms),
    get: (point) => point.lastEpochMs,
    describe: 'first and last epoch used, or of all where none was',
  }),
  column({
    name: 'epochs_used',
    kind: 'whole',
    get: (point) => point.epochsUsed,
    describe: 'epochs in the mean',
  }),
  column({
    name: 'epochs_rejected',
    kind: 'whole',
    get: (point) => point.epochsRejected,
    describe: 'epochs refused',
  }),
  column({
    name: 'effective_epochs',
    kind: 'number',
    decimals: DECIMALS.count,
    get: (point) => point.effectiveEpochs,
    describe: 'independent epochs that the mean is worth',
  }),
  column({
    name: 'sigma_east_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    trust: 'plan',
    put: (row, sigma) => (row.sigmaEastM = sigma),
    get: ({ uncertainty }) => (uncertainty === null ? null : clampedSqrt(uncertainty.total.eeM2)),
    describe: SIGMA,
  }),
  column({
    name: 'sigma_north_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    trust: 'plan',
    put: (row, sigma) => (row.sigmaNorthM = sigma),
    get: ({ uncertainty }) => (uncertainty === null ? null : clampedSqrt(uncertainty.total.nnM2)),
    describe: SIGMA,
  }),
  column({
    name: 'sigma_up_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    trust: 'height',
    put: (row, sigma) => (row.sigmaUpM = sigma),
    get: ({ uncertainty }) => (uncertainty === null ? null : clampedSqrt(uncertainty.total.uuM2)),
    describe: SIGMA,
  }),
  column({
    name: 'correlation_en',
    kind: 'number',
    decimals: DECIMALS.correlation,
    range: [-1, 1],
    trust: 'plan',
    put: (row, correlation) => (row.correlationEn = correlation),
    get: ({ uncertainty }) => (uncertainty === null ? null : correlationOf(uncertainty.total)),
    describe: 'correlation of east and north',
  }),
  column({
    name: 'ellipse_major_95_m',
    kind: 'number',
    unit: 'm',
    trust: 'plan',
    get: ({ summary }) => (summary === null ? null : summary.ellipseMajor95M),
    describe: ELLIPSE,
  }),
  column({
    name: 'ellipse_minor_95_m',
    kind: 'number',
    unit: 'm',
    trust: 'plan',
    get: ({ summary }) => (summary === null ? null : summary.ellipseMinor95M),
    describe: ELLIPSE,
  }),
  column({
    name: 'ellipse_azimuth_deg',
    kind: 'number',
    unit: 'deg',
    decimals: 2,
    trust: 'plan',
    get: ({ summary }) => (summary === null ? null : summary.ellipseAzimuthDeg),
    describe: 'direction of its major axis, clockwise from true north',
  }),
  column({
    name: 'circle_95_m',
    kind: 'number',
    unit: 'm',
    trust: 'plan',
    get: ({ summary }) => (summary === null ? null : summary.circle95M),
    describe: 'radius of the circle that holds 95 %',
  }),
  column({
    name: 'vertical_95_m',
    kind: 'number',
    unit: 'm',
    trust: 'height',
    get: ({ summary }) => (summary === null ? null : summary.vertical95M),
    describe: 'height, 95 %',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    trust: 'both',
    put: (row, verdict: string) => (row.verdict = verdict.trim()),
    get: (point) => point.verdict,
    describe: '`accepted`, `review` or `rejected`',
  }),
  column({
    name: 'reasons',
    kind: 'codes',
    trust: 'both',
    put: (row, reasons) => (row.reasons = reasons),
    get: (point) => point.reasons,
    describe: 'codes of what speaks against the point, with semicolons between',
  }),
];

const ROLES: ReadonlyMap<string, ControlRole> = new Map<string, ControlRole>([
  ['fit', 'fit'],
  ['check', 'check'],
  ['both', 'both'],
]);

/** Columns that files of points, control or design may have beside those of reduced points. */
const BESIDE: readonly Column<PointRow>[] = [
  column({
    name: 'pole_length_m',
    kind: 'number',
    unit: 'm',
    range: [0, 100],
    put: (row, length) => (row.poleLengthM = length),
    describe: 'tip to antenna reference point',
  }),
  column({
    name: 'tilt_deg',
    kind: 'number',
    unit: 'deg',
    range: [0, 90],
    put: (row, tilt) => (row.tiltDeg = tilt),
    describe: 'lean of the pole from the vertical',
  }),
  column({
    name: 'sigma_horizontal_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    trust: 'plan',
    put: (row, sigma) => (row.sigmaHorizontalM = sigma),
    describe: 'one sigma of a known point, per axis in plan, and in height',
  }),
  column({
    name: 'sigma_vertical_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    trust: 'height',
    put: (row, sigma) => (row.sigmaVerticalM = sigma),
    describe: 'one sigma of a known point, per axis in plan, and in height',
  }),
  column({
    name: 'tolerance_horizontal_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    put: (row, tolerance) => (row.toleranceHorizontalM = tolerance),
    describe: 'tolerance of the point, before that of options and session',
  }),
  column({
    name: 'tolerance_vertical_m',
    kind: 'number',
    unit: 'm',
    range: SIGMA_RANGE,
    put: (row, tolerance) => (row.toleranceVerticalM = tolerance),
    describe: 'tolerance of the point, before that of options and session',
  }),
  column({
    name: 'role',
    kind: 'word',
    words: ROLES,
    put: (row, role) => (row.role = role),
    describe: 'what control is used for; empty is `fit`',
  }),
  column({
    name: 'source',
    kind: 'text',
    put: (row, source) => (row.source = source),
    describe: 'where the coordinates were taken from',
  }),
];

/** Every column of reduced points in order, given the grid pair's names. */
export function pointColumns(pair: AxisNames): readonly PointColumn[] {
  return [...BEFORE_GRID, ...gridColumns(pair), ...AFTER_GRID];
}

/** The columns of a file of points, control or design: those before the position, its own, and those after it. */
export const POINT_FILE_COLUMNS: {
  readonly before: readonly Column<PointRow>[];
  readonly pair: (pair: AxisNames) => readonly Column<PointRow>[];
  readonly after: readonly Column<PointRow>[];
  readonly beside: readonly Column<PointRow>[];
} = { before: BEFORE_GRID, pair: gridColumns, after: AFTER_GRID, beside: BESIDE };

/** The columns of points by name, without the grid pair. */
export const KNOWN_POINT_COLUMNS: ReadonlyMap<string, Column<PointRow>> = new Map(
  [...BEFORE_GRID, ...AFTER_GRID, ...BESIDE].map((known: Column<PointRow>) => [known.name, known]),
);

function correlationOf({ eeM2, enM2, nnM2 }: LocalCovariance): number {
  const product = clampedSqrt(eeM2) * clampedSqrt(nnM2);
  return product > 0 ? enM2 / product : 0;
}
