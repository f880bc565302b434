import { describe, expect, it } from 'vitest';
import type { PointRow } from '../../src/records/points/point-row.js';
import { checkRepeats } from '../../src/tasks/check/compare/check-tolerances-repeats.js';
import type { RepeatCheck } from '../../src/tasks/check/compare/check-tolerances-repeats.js';
import type { CheckSetup } from '../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK, checkBase, pointRow } from '../support/check-setup.js';
import { seededRandom } from '../support/seeded-random.js';
import type { SeededRandom } from '../support/seeded-random.js';

// A world of its own: nothing of it is taken from the code under test. One base a day; each stand has the base's error, a slow
// error that fades with 8 minutes in plan and 12 in height, and noise with a lean of the pole. Millimetres, one sigma an axis.
const BASE = { plan: 8, height: 12 };
const SLOW = { plan: 7, height: 13, planS: 480, heightS: 720 };
const OWN = { plan: 4.5, height: 5 };
const POINTS = 20;
const DAYS = 150;

const SETUP: CheckSetup = {
  ...PLAIN_CHECK,
  bases: [
    checkBase('B', {
      mark: { horizontalM: BASE.plan / 1000, verticalM: BASE.height / 1000 },
      setup: { horizontalM: 0, verticalM: 0 },
    }),
  ],
};

interface Slip {
  readonly point: number;
  readonly stand: number;
  readonly sizeM: number;
}

/** The rows of a day: rounds over all points, one stand each, 40 to 120 minutes a round. */
function day(random: SeededRandom, stands: number, slip: Slip | null): readonly PointRow[] {
  const base = [BASE.plan, BASE.plan, BASE.height].map((sigma) => sigma * random.normal());
  const slow = [random.normal(), random.normal(), random.normal()];
  const rows: PointRow[] = [];
  let timeS = 0;
  for (let stand = 0; stand < stands; stand += 1) {
    const gapS = 120 + 240 * random.next();
    for (let point = 0; point < POINTS; point += 1) {
      [SLOW.planS, SLOW.planS, SLOW.heightS].forEach((tauS, axis) => {
        const rho = Math.exp(-gapS / tauS);
        slow[axis] = rho * (slow[axis] ?? 0) + Math.sqrt(1 - rho * rho) * random.normal();
      });
      timeS += gapS;
      const error = [0, 1, 2].map(
        (axis) =>
          ((base[axis] ?? 0) +
            (axis === 2 ? SLOW.height : SLOW.plan) * (slow[axis] ?? 0) +
            (axis === 2 ? OWN.height : OWN.plan) * random.normal()) /
          1000,
      );
      const turn = 2 * Math.PI * random.next();
      const slipM = slip?.point === point && slip.stand === stand ? slip.sizeM : 0;
      const sigmaM = Math.hypot(BASE.plan, SLOW.plan, OWN.plan) / 1000;
      rows.push(
        pointRow({
          pointId: `P${String(point)}`,
          occupation: String(stand + 1),
          gridFirst: 100 * point + (error[0] ?? 0) + slipM * Math.cos(turn),
          gridSecond: (error[1] ?? 0) + slipM * Math.sin(turn),
          orthometricHeightM: error[2] ?? 0,
          baseId: 'B',
          baselineM: 6000,
          baselineAzimuthDeg: 0,
          baselineHeightDifferenceM: 0,
          firstEpochMs: timeS * 1000,
          lastEpochMs: (timeS + 10) * 1000,
          sigmaEastM: sigmaM,
          sigmaNorthM: sigmaM,
          sigmaUpM: Math.hypot(BASE.height, SLOW.height, OWN.height) / 1000,
          verdict: 'accepted',
          place: { sourceIndex: 0, line: 0 },
        }),
      );
    }
  }
  return rows;
}

function checked(rows: readonly PointRow[]): RepeatCheck {
  const result = checkRepeats(rows, null, 'points.csv', SETUP);
  if (!result.ok) throw new Error('no comparison');
  return result.value;
}

describe('the rates of the test of repeats, in a world of its own', () => {
  it.each([3, 5, 8])(
    'of %i stands: a clean day of 20 points passes in 97 % and more, a clean point in 99 %',
    (stands) => {
      const random = seededRandom(700 + stands);
      let points = 0;
      let days = 0;
      for (let run = 0; run < DAYS; run += 1) {
        const bad = checked(day(random, stands, null)).groups.filter(
          ({ chiSquare, limit }) => chiSquare > limit,
        ).length;
        points += bad;
        if (bad > 0) days += 1;
      }
      expect(points / (DAYS * POINTS)).toBeLessThanOrEqual(0.01);
      expect(days / DAYS).toBeLessThanOrEqual(0.03);
    },
    120_000,
  );

  it('finds a stand that is 10 cm off, and names it', () => {
    const random = seededRandom(77);
    let found = 0;
    let named = 0;
    let others = 0;
    for (let run = 0; run < DAYS; run += 1) {
      const slip = { point: run % POINTS, stand: run % 4, sizeM: 0.1 };
      const bad = checked(day(random, 4, slip)).groups.filter(({ chiSquare, limit }) => chiSquare > limit);
      const own = bad.find(({ pointId }) => pointId === `P${String(slip.point)}`);
      if (own !== undefined) found += 1;
      if (own?.odd === String(slip.stand + 1)) named += 1;
      others += bad.length - (own === undefined ? 0 : 1);
    }
    expect(found / DAYS).toBeGreaterThan(0.99);
    expect(named / DAYS).toBeGreaterThan(0.97);
    expect(others / (DAYS * POINTS)).toBeLessThanOrEqual(0.01);
  }, 120_000);
});
