import { GRS80 } from '../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../src/core/ellipsoid/geodesic.js';
import { createPrecisionModel } from '../../src/core/planning/precision-model.js';
import type { PrecisionModel } from '../../src/core/planning/precision-model.js';
import type { PointRow } from '../../src/records/points/point-row.js';
import type { CheckSetup, PlacedPoint } from '../../src/tasks/check/judge/check-tolerances-setup.js';
import { placePoint } from '../../src/tasks/check/compare/check-tolerances-place.js';

/** Normal conditions, and nothing stated of the instrument. */
export const NORMAL_PRECISION: PrecisionModel = createPrecisionModel({
  conditions: 'normal',
  horizontal: null,
  vertical: null,
  combine: 'rss',
  correlationHorizontalS: null,
  correlationVerticalS: null,
});

/** A check of points without grid, geoid, bases or limits. */
export const PLAIN_CHECK: CheckSetup = {
  axes: { first: 'easting', second: 'northing', signs: [1, 1], metresPerUnit: 1 },
  grid: null,
  ellipsoid: GRS80,
  geodesic: createGeodesic(GRS80),
  geoid: null,
  geoidSigmaM: null,
  epochYear: null,
  bases: [],
  precision: NORMAL_PRECISION,
  phaseCentreOffsetsM: [],
  isTiltMeasured: false,
  tilts: new Map(),
  largestLeanDeg: null,
  otherZones: [],
  controlRules: [],
  repeatRules: [],
  designRules: [],
  day: null,
};

/** A row of a table of points in which only this is filled. */
export const pointRow = (own: Partial<PointRow>): PointRow => ({
  pointId: 'P1',
  occupation: '',
  code: '',
  gridFirst: null,
  gridSecond: null,
  latitudeDeg: null,
  longitudeDeg: null,
  ellipsoidalHeightM: null,
  orthometricHeightM: null,
  geoidHeightM: null,
  baseId: null,
  baselineM: null,
  baselineAzimuthDeg: null,
  baselineHeightDifferenceM: null,
  firstEpochMs: null,
  lastEpochMs: null,
  sigmaEastM: null,
  sigmaNorthM: null,
  sigmaUpM: null,
  correlationEn: null,
  sigmaHorizontalM: null,
  sigmaVerticalM: null,
  combinedFactor: null,
  poleLengthM: null,
  tiltDeg: null,
  toleranceHorizontalM: null,
  toleranceVerticalM: null,
  passThrough: [],
  place: { sourceIndex: 0, line: 2 },
  role: null,
  source: '',
  verdict: '',
  reasons: '',
  ...own,
});

/** The same, placed by a setup. */
export const placedRow = (own: Partial<PointRow>, setup: CheckSetup = PLAIN_CHECK): PlacedPoint =>
  placePoint(pointRow(own), setup);

type BaseIdentity = CheckSetup['bases'][number]['identity'];

/** A base as far as a check looks at it: its id, when it holds, and the sigmas of its mark and of its set-up. */
export function checkBase(
  id: string,
  own: Pick<BaseIdentity, 'mark' | 'setup'> &
    Partial<BaseIdentity> & { readonly fromMs?: number | null; readonly toMs?: number | null },
): CheckSetup['bases'][number] {
  const { fromMs = null, toMs = null, ...identity } = own;
  return {
    settings: { id, fromMs, toMs },
    identity: { setupKey: '0', markKey: '0', setupName: id, ...identity },
  } as unknown as CheckSetup['bases'][number];
}
