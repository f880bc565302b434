import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../../src/core/ellipsoid/geodesic.js';
import { buildGridSystem } from '../../../../../src/core/grid/systems/build-grid-system.js';
import type { GridSystem } from '../../../../../src/core/grid/systems/grid-system.js';
import { definitionFromProjString } from '../../../../../src/core/projection/definition/definition-from-proj-string.js';
import type { CauseFamily } from '../../../../../src/core/quality/cause/cause-context.js';
import type { CauseDay, CausePoint } from '../../../../../src/core/quality/cause/cause-day.js';
import type { CauseModel } from '../../../../../src/core/quality/cause/cause-model.js';
import { baseCauses } from '../../../../../src/core/quality/cause/hypotheses/base-causes.js';
import { controlCauses } from '../../../../../src/core/quality/cause/hypotheses/control-causes.js';
import { coordinateCauses } from '../../../../../src/core/quality/cause/hypotheses/coordinate-causes.js';
import { datumCauses } from '../../../../../src/core/quality/cause/hypotheses/datum-causes.js';
import { distanceCauses } from '../../../../../src/core/quality/cause/hypotheses/distance-causes.js';
import { epochCauses } from '../../../../../src/core/quality/cause/hypotheses/epoch-causes.js';
import { heightCauses } from '../../../../../src/core/quality/cause/hypotheses/height-causes.js';
import { occupationCauses } from '../../../../../src/core/quality/cause/hypotheses/occupation-causes.js';
import { causeContext, causePoint } from './a-day.js';

// Regression, kept whole: every form that each family makes of five invented days, its pattern, what it reads of sizes on both
// sides of each limit. Whether patterns and limits are right is what the tests of the single families hold.

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
function known(index: number, change: Partial<CausePoint> = {}): CausePoint {
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
const whole: Partial<CauseDay> = {
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
const five = [0, 1, 2, 3, 4];
const plain = { latitudeDeg: null, longitudeDeg: null, geoidHeightM: null, combinedFactor: null, middleMs: null };

const DAYS: readonly (readonly [string, readonly CausePoint[], Partial<CauseDay>])[] = [
  ['all is known', five.map((index) => known(index)), whole],
  [
    'one base of which nothing is known',
    five.map((index) => known(index, { baseId: 'B', tiltDeg: null })),
    { heightKind: 'ellipsoidal', isTiltMeasured: false, phaseCentreOffsetsM: [0] },
  ],
  [
    'a grid that counts west and south in feet',
    five.slice(0, 4).map((index) => known(index, { upM: null, baseId: 'C' })),
    { ...whole, axisSigns: [-1, -1], metresPerUnit: 0.3048 },
  ],
  [
    'heights alone',
    five.slice(1).map((index) => known(index, { eastM: null, northM: null, knownFirstM: null, knownSecondM: null })),
    { ...whole, heightKind: 'ellipsoidal', largestLeanDeg: null },
  ],
  [
    'pairs without places and times, one of them near another',
    [
      known(0, plain),
      known(1, { ...plain, baseId: null }),
      causePoint('N', { ...plain, knownFirstM: 1000, knownSecondM: 2000, knownHeightM: null, eastM: 0.6, northM: 0 }),
      causePoint('M', { ...plain, knownFirstM: 1001, knownSecondM: 2000, knownHeightM: 12, upM: null }),
      known(4, { distanceM: null, azimuthDeg: null, heightDifferenceM: null, poleLengthM: null }),
    ],
    { ...whole, bases: new Map() },
  ],
];

const FAMILIES: Readonly<Record<string, CauseFamily>> = {
  ...{ baseCauses, controlCauses, coordinateCauses, datumCauses },
  ...{ distanceCauses, epochCauses, heightCauses, occupationCauses },
};

/** Six digits, of what is more than the noise of a difference of coordinates. */
const digits = (value: number): string =>
  Math.abs(value) < 1e-8 ? '0' : value.toPrecision(6).replace(/\.?0+(?=e|$)/u, '');
const LADDER = [0, 0.02, 0.06, 0.3, 1.5, 2.5, 2.6, 5, 5.1, 20, 45, 60, 61, 120, 300, 500, 510, 5000];

/** Of how many sizes, and which, the form reads: each alone of the ladder, both signs, with a small sigma and none. */
function readOf(model: CauseModel): readonly string[] {
  const count = model.columns.length;
  const at = (size: number, sigma: number, place: number): ReturnType<CauseModel['read']> =>
    model.read(
      Array.from({ length: count }, (_, index) => (index === place ? size : 0)),
      Array.from({ length: count }, () => sigma),
    );
  const lines = Array.from({ length: Math.max(1, count) }, (_, place) => {
    const taken = LADDER.flatMap((size) =>
      [size, -size].map((own) => [0, 0.01].map((s) => at(own, s, place) !== null)),
    );
    return `  takes ${taken.map(([exact = false, loose = false]) => ['-', 'l', 'e', 'x'][2 * Number(exact) + Number(loose)]).join('')}`;
  });
  const some = [0.02, 0.06, 0.3, -1.5, 20].map((size) => at(size, 0.01, 0)).find((read) => read !== null) ?? [];
  const words = some.map(
    ({ name, value, sigma, unit }) => `${name} ${digits(value)}${unit}${sigma === null ? '' : ` ± ${digits(sigma)}`}`,
  );
  return [...lines, ...(words.length === 0 ? [] : [`  reads ${words.join('; ')}`])];
}

function said(model: CauseModel): string {
  const { cause, subject, choices, isWhitened, fixed, columns, stand, ordinary, implausibility } = model;
  const list = (values: Float64Array): string => [...values].map(digits).join(' ');
  return [
    `${cause} [${subject}] of ${digits(choices)}${isWhitened ? ', whitened' : ''}`,
    ...(fixed === null ? [] : [`  fixed ${list(fixed)}`]),
    ...columns.map((column) => `  column ${list(column)}`),
    ...(stand === null || stand === undefined
      ? []
      : [`  stand ${stand.name}${stand.isOnlyOfPoint ? ', its only one' : ''}`]),
    ...(ordinary === undefined ? [] : [`  ordinary ${ordinary.map(digits).join(' ')}`]),
    ...(implausibility === undefined
      ? []
      : [`  implausible ${LADDER.map((size) => digits(implausibility(columns.map(() => size)))).join(' ')}`]),
    ...readOf(model),
  ].join('\n');
}

describe('every form of every family, as it was', () => {
  it.each(DAYS.flatMap((day) => Object.keys(FAMILIES).map((family) => [day[0], family, day] as const)))(
    '%s: %s',
    async (name, family, [, points, change]) => {
      const models = FAMILIES[family]?.(causeContext(points, change)) ?? [];
      const path = `./forms/${name}-${family}.txt`.replaceAll(/[, ]+/gu, '-');
      await expect(`${models.map(said).join('\n')}\n`).toMatchFileSnapshot(path);
    },
  );
});
