import { WGS84 } from '../../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../../src/core/ellipsoid/geodesic.js';
import { buildGridSystem } from '../../../../../src/core/grid/systems/build-grid-system.js';
import type { GridSystem } from '../../../../../src/core/grid/systems/grid-system.js';
import { definitionFromProjString } from '../../../../../src/core/projection/definition/definition-from-proj-string.js';
import type { CauseDay, CausePoint } from '../../../../../src/core/quality/cause/cause-day.js';
import { causePoint } from './a-day.js';

const made = <T>(outcome: { ok: true; value: T } | { ok: false }): T => {
  if (!outcome.ok) throw new Error('no value');
  return outcome.value;
};
const zone = (meridian: number): GridSystem =>
  made(
    buildGridSystem(
      made(
        definitionFromProjString(
          `+proj=tmerc +lat_0=0 +lon_0=${String(meridian)} +k=0.9999 +x_0=50000 +y_0=10000 +ellps=WGS84 +units=m`,
        ),
      ),
      null,
    ),
  );
const OWN = zone(15);
const OTHER = zone(18);
const BASE = { latitudeDeg: 47.1, longitudeDeg: 15.3 };
const SECOND = { latitudeDeg: 47.3, longitudeDeg: 15.6 };
const geodesic = createGeodesic(WGS84);

/** A control point about the base, all of it known. */
export function known(index: number, change: Partial<CausePoint> = {}): CausePoint {
  const to = geodesic.direct(BASE.latitudeDeg, BASE.longitudeDeg, (index * 137) % 360, 900 + 2500 * index);
  const factors = {
    ...{ first: 0, second: 0, pointScaleFactor: null, convergenceDeg: 0 },
    ...{ meridianScaleFactor: 1, parallelScaleFactor: 1 },
  };
  OWN.forwardWithFactors(to.latitudeDeg, to.longitudeDeg, factors);
  const line = geodesic.inverse(BASE.latitudeDeg, BASE.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
  return causePoint(`K${String(index)}`, {
    ...{ occupation: '1', latitudeDeg: to.latitudeDeg, longitudeDeg: to.longitudeDeg },
    ...{ eastM: 0.01 * index - 0.02, northM: 0.03 - 0.007 * index, upM: 0.02 * (index % 3) - 0.01 },
    ...{ convergenceDeg: factors.convergenceDeg, pointScaleFactor: factors.pointScaleFactor ?? 1 },
    combinedFactor: (factors.pointScaleFactor ?? 1) * (1 - (600 + 40 * index) / 6_380_000),
    ...{ knownFirstM: factors.first, knownSecondM: factors.second, knownHeightM: 600 + 40 * index },
    ...{ geoidHeightM: 45 + index / 10, baseId: index % 2 === 0 ? 'B' : 'C', distanceM: line.distanceM },
    azimuthDeg: ((line.reverseAzimuthDeg ?? 0) + 180) % 360,
    ...{ heightDifferenceM: 40 * index - 20, middleMs: index * 3_600_000, poleLengthM: index === 3 ? 1.8 : 2 },
    tiltDeg: index === 2 ? 1.5 : 4,
    ...change,
  });
}

const sigmas = { sigmaHorizontalM: 0.01, sigmaVerticalM: null, markSigmas: { horizontalM: 0, verticalM: 0 } };
const plates = [
  { radiusM: 0.1698, offsetM: 0.0442 },
  { radiusM: 0.15, offsetM: 0.03 },
];
const BASES: CauseDay['bases'] = new Map([
  [
    'B',
    {
      ...{ ...BASE, ...sigmas, name: 'B', markKey: 'one' },
      antenna: { kind: 'vertical' as const, heightM: 1.512, verticalM: 1.512, plates },
    },
  ],
  [
    'C',
    {
      ...{ ...SECOND, ...sigmas, name: 'C', markKey: 'two' },
      antenna: { kind: 'slant' as const, heightM: 1.62, verticalM: 1.5558, plates: plates.slice(0, 1) },
    },
  ],
]);
/** Two bases, a shift of frames and another zone. */
export const whole: Partial<CauseDay> = {
  bases: BASES,
  geoidSigmaM: 0.02,
  phaseCentreOffsetsM: [0.0883, 0, 0.0883, 0.061],
  isTiltMeasured: true,
  largestLeanDeg: 5,
  frameShifts: [
    {
      ...{ name: 'an invented datum', source: 'invented', ellipsoid: WGS84, grid: null },
      toOther: (xM, yM, zM, out) => Object.assign(out, { xM: xM + 577.3, yM: yM + 90.1, zM: zM + 463.9 }),
      toOwn: (xM, yM, zM, out) => Object.assign(out, { xM: xM - 577.3, yM: yM - 90.1, zM: zM - 463.9 }),
    },
  ],
  forward: OWN.forward,
  inverse: OWN.inverse,
  otherZones: [{ name: 'central meridian 18', forward: OTHER.forward, inverse: OTHER.inverse }],
};
