import { describe, expect, it } from 'vitest';
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
import { systemCauses } from '../../../../../src/core/quality/cause/hypotheses/system-causes.js';
import { causeContext, causePoint } from './a-day.js';
import { known, whole } from './a-known-day.js';

// Regression, kept whole: every form that each family makes of five invented days, its pattern, what it reads of sizes on both
// sides of each limit. Whether patterns and limits are right is what the tests of the single families hold.

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
  ...{ distanceCauses, epochCauses, heightCauses, occupationCauses, systemCauses },
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
