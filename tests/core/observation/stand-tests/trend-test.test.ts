import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../../../src/core/ellipsoid/local-frame.js';
import { antennaMoving } from '../../../../src/core/observation/stand-tests/antenna-moving.js';
import { theilSen } from '../../../../src/core/observation/averaging/theil-sen.js';
import { trendTest } from '../../../../src/core/observation/stand-tests/trend-test.js';
import { seededRandom } from '../../../support/seeded-random.js';
import type { SeededRandom } from '../../../support/seeded-random.js';

const WHITE_M = 0.004;
const noise = { constantM: 0.006, growingM: 0, correlationS: 115 };

/** An antenna standing still under the noise model. */
function standing(
  random: SeededRandom,
  count: number,
  stepS: number,
  correlationS = noise.correlationS,
): { readonly times: Float64Array; readonly values: Float64Array } {
  const rho = Math.exp(-stepS / correlationS);
  let slow = random.normal();
  const values = new Float64Array(count);
  for (let i = 0; i < count; i += 1) {
    if (i > 0) slow = rho * slow + Math.sqrt(1 - rho * rho) * random.normal();
    values[i] = noise.constantM * slow + WHITE_M * random.normal();
  }
  return { times: Float64Array.from({ length: count }, (_, i) => i * stepS), values };
}

describe('theilSen', () => {
  it('finds a line exactly, also from block means, and does not mind a wild value in seven', () => {
    const times = Array.from({ length: 500 }, (_, i) => i);
    expect(
      theilSen(
        times,
        times.map((t) => 3 - 0.25 * t),
      ),
    ).toBeCloseTo(-0.25, 12);
    expect(theilSen([0, 1, 2, 3, 4, 5, 6], [0, 1, 2, 30, 4, 5, 6])).toBeCloseTo(1, 12);
    expect(theilSen([4, 4, 4], [1, 2, 3])).toBe(0);
  });
});

describe('trendTest', () => {
  it('finds nothing in at least 99 of 100 antennas that stand still', () => {
    const random = seededRandom(11);
    for (const [count, stepS] of [
      [10, 1],
      [60, 1],
      [300, 1],
      [30, 10],
    ] as const) {
      let alarms = 0;
      const runs = 1000;
      for (let run = 0; run < runs; run += 1) {
        const { times, values } = standing(random, count, stepS);
        const result = trendTest(times, values, noise);
        if (result.isDrift || result.isStep) alarms += 1;
      }
      expect(alarms / runs).toBeLessThan(0.01);
    }
  });

  it('states the spread of the drift it expects: 1 sigma within 15 % of what simulation gives at the shortest correlation time', () => {
    const random = seededRandom(12);
    const shortestS = 0.3 * 117;
    let squares = 0;
    let expected = 0;
    const runs = 2000;
    for (let run = 0; run < runs; run += 1) {
      const { times, values } = standing(random, 40, 3, shortestS);
      const result = trendTest(times, values, noise);
      squares += result.driftM ** 2;
      expected = result.driftSigmaM;
    }
    expect(Math.abs(Math.sqrt(squares / runs) / expected - 1)).toBeLessThan(0.15);
  });

  it('finds a step of 6 cm, says where, and does not call it a drift', () => {
    const random = seededRandom(13);
    for (let run = 0; run < 50; run += 1) {
      const { times, values } = standing(random, 30, 1);
      for (let i = 18; i < 30; i += 1) values[i] = (values[i] ?? 0) + 0.06;
      const result = trendTest(times, values, noise);
      expect(result.isStep).toBe(true);
      expect(result.isDrift).toBe(false);
      expect(result.stepAt).toBe(18);
      expect(Math.abs(result.stepM - 0.06)).toBeLessThan(0.012);
    }
  });

  it('finds a solution that creeps 8 cm over a minute, and does not call it a step', () => {
    const random = seededRandom(14);
    for (let run = 0; run < 50; run += 1) {
      const { times, values } = standing(random, 61, 1);
      for (let i = 0; i < 61; i += 1) values[i] = (values[i] ?? 0) - (0.08 * i) / 60;
      const result = trendTest(times, values, noise);
      expect(result.isDrift).toBe(true);
      expect(result.isStep).toBe(false);
      expect(Math.abs(result.driftM + 0.08)).toBeLessThan(0.03);
    }
  });

  it('makes no test of fewer than 6 epochs or of epochs at one time', () => {
    expect(trendTest([0, 1, 2, 3, 4], [0, 0, 0, 9, 9], noise).stepAt).toBeNull();
    expect(trendTest([0, 0, 0, 0, 0, 0], [0, 0, 0, 9, 9, 9], noise).isStep).toBe(false);
  });

  it('does not trouble with what is below 3 mm, however smooth the epochs', () => {
    const times = Array.from({ length: 20 }, (_, i) => i);
    const still = { constantM: 0, growingM: 0, correlationS: 100 };
    expect(
      trendTest(
        times,
        times.map((t) => (0.0029 * t) / 19),
        still,
      ).isDrift,
    ).toBe(false);
    expect(
      trendTest(
        times,
        times.map((t) => (0.0032 * t) / 19),
        still,
      ).isDrift,
    ).toBe(true);
  });
});

describe('antennaMoving', () => {
  const seconds = Array.from({ length: 30 }, (_, i) => i);
  const still = seconds.map(() => 0);

  const most = { horizontalM: 0.014, verticalM: 0.028 };
  const moving = (
    timesS: readonly number[],
    east: readonly number[],
    up: readonly number[] = timesS.map(() => 0),
  ): ReturnType<typeof antennaMoving> => antennaMoving({ timesS, east, north: timesS.map(() => 0), up }, most);

  it('finds a slow walk of 5 cm a second, a pole that is raised, and a walk that returns to its start', () => {
    expect(
      moving(
        seconds,
        seconds.map((t) => 0.05 * t),
      ).isMoving,
    ).toBe(true);
    expect(
      moving(
        seconds,
        still,
        seconds.map((t) => -0.05 * t),
      ),
    ).toMatchObject({ isMoving: true, displacementM: 0 });
    const circle = antennaMoving(
      {
        timesS: seconds,
        east: seconds.map((t) => Math.cos((2 * Math.PI * t) / 29)),
        north: seconds.map((t) => Math.sin((2 * Math.PI * t) / 29)),
        up: still,
      },
      most,
    );
    expect(circle.isMoving).toBe(true);
    expect(circle.spreadM).toBeCloseTo(1, 1);
    expect(
      moving(
        seconds,
        still,
        seconds.map((t) => 0.3 * Math.cos((2 * Math.PI * t) / 29)),
      ),
    ).toMatchObject({ isMoving: true, spreadM: 0 });
  });

  it('does not call noise, or two epochs 4 cm apart, moving', () => {
    const random = seededRandom(15);
    for (let run = 0; run < 500; run += 1) {
      const { times, values } = standing(random, 5, 1);
      const { values: other } = standing(random, 5, 1);
      expect(antennaMoving({ timesS: times, east: values, north: other, up: values }, most).isMoving).toBe(false);
    }
    expect(moving([0, 1], [0, 0.04]).isMoving).toBe(false);
    expect(moving([0, 1], [0, 0.1]).isMoving).toBe(true);
    expect(moving([0, 1], [0, 0], [0, 0.1]).isMoving).toBe(false);
    expect(moving([0, 1], [0, 0], [0, 0.2]).isMoving).toBe(true);
    expect(moving([0], [5], [5]).isMoving).toBe(false);
  });

  it('takes epochs ten times a second for hardly better than one a second', () => {
    const tenths = seconds.map((t) => t / 10);
    const jump = seconds.map((t) => (t < 15 ? 0 : 0.05));
    expect(moving(tenths, jump).isMoving).toBe(false);
    expect(moving([0, 1, 2, 3, 4, 5, 6, 7, 8, 9], [0, 0, 0, 0, 0, 0.2, 0.2, 0.2, 0.2, 0.2]).isMoving).toBe(true);
  });

  it('has no speed where no time passes, and then goes by the spread alone', () => {
    expect(moving([7, 7, 7], [0, 0.02, 0.04])).toMatchObject({ speedMetresPerSecond: null, isMoving: false });
    expect(moving([7, 7, 7], [0, 2, 4])).toMatchObject({ speedMetresPerSecond: null, isMoving: true });
  });

  const log = new URL('../../../../../shared/data/nmea-rtk-moving.nmea', import.meta.url);
  it.skipIf(!existsSync(log))(
    'finds the moving part of a real log moving, and its fixed part, which stands within 3 mm, still',
    () => {
      const rows = readFileSync(log, 'utf8')
        .split(/\r?\n/)
        .filter((line) => line.includes('GGA'))
        .map((line) => line.split(','));
      const judge = (quality: string): ReturnType<typeof antennaMoving> => {
        const degrees = (text = ''): number => Math.floor(Number(text) / 100) + (Number(text) % 100) / 60;
        const chosen = rows.filter((row) => row[6] === quality);
        const frame = localFrameAt(degrees(chosen[0]?.[2]), -degrees(chosen[0]?.[4]));
        const origin = geodeticToGeocentric(
          { latitudeDeg: degrees(chosen[0]?.[2]), longitudeDeg: -degrees(chosen[0]?.[4]), ellipsoidalHeightM: 250 },
          WGS84,
        );
        const local = chosen.map((row) => {
          const p = geodeticToGeocentric(
            { latitudeDeg: degrees(row[2]), longitudeDeg: -degrees(row[4]), ellipsoidalHeightM: 250 },
            WGS84,
          );
          return geocentricToLocal(frame, { xM: p.xM - origin.xM, yM: p.yM - origin.yM, zM: p.zM - origin.zM });
        });
        // Both parts lie within one minute of the clock.
        const times = chosen.map((row) => Number((row[1] ?? '').slice(2, 4)) * 60 + Number((row[1] ?? '').slice(4)));
        return antennaMoving(
          {
            timesS: times,
            east: local.map((v) => v.eastM),
            north: local.map((v) => v.northM),
            up: local.map((v) => v.upM),
          },
          most,
        );
      };
      const moving = judge('2');
      expect(moving.isMoving).toBe(true);
      expect(moving.spreadM).toBeGreaterThan(0.5);
      const fixed = judge('4');
      expect(fixed.isMoving).toBe(false);
      expect(fixed.spreadM).toBeLessThan(0.003);
    },
  );
});
