import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { noisyDay } from '../../../src/core/quality/day/noisy-day.js';
import { readSession } from '../../../src/io/settings/session-read.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import type { CheckSetup } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { checkControl } from '../../../src/tasks/check/compare/check-tolerances-control.js';
import { controlContrasts } from '../../../src/tasks/repeats/control-contrasts.js';
import { dayOfCheck, dayToApply } from '../../../src/tasks/check/day-of-check.js';
import { prepareBases } from '../../../src/tasks/bases/prepare-bases.js';
import { PLAIN_CHECK, pointRow } from '../../support/check-setup.js';
import { seededRandom } from '../../support/seeded-random.js';

const BASE = { latitudeDeg: -31.5, longitudeDeg: 21.3, ellipsoidalHeightM: 1000 };
const geodesic = createGeodesic(GRS80);
function bases(): CheckSetup['bases'] {
  const session = readSession(
    `version = 1\n[[base]]\nid = "B"\nbroadcast = { latitude_deg = ${BASE.latitudeDeg}, longitude_deg = ${BASE.longitudeDeg}, ellipsoidal_height_m = ${BASE.ellipsoidalHeightM}, at = "arp" }\nsigma_horizontal_m = 0.01\nsigma_vertical_m = 0.02\n`,
    'day.toml',
  );
  if (!session.ok) throw new Error(session.problems[0]?.message);
  const prepared = prepareBases(session.value.bases, { ellipsoid: GRS80, grid: null, geoid: null });
  if (!prepared.ok) throw new Error(prepared.problems[0]?.message);
  return prepared.value;
}
const SETUP: CheckSetup = { ...PLAIN_CHECK, bases: bases() };

interface Day {
  readonly points: PointRow[];
  readonly control: PointRow[];
}

/** Control from 3 to 25 km all round, hours apart; what grows with the baseline times `times`; the base wrong by `baseM` east; the third point by `blunderM`. */
function dayOf(seed: number, count: number, times: number, { baseM = 0, blunderM = 0 } = {}): Day {
  const random = seededRandom(seed);
  const day: Day = { points: [], control: [] };
  for (let index = 0; index < count; index += 1) {
    const distanceM = 3000 + (22_000 * index) / (count - 1);
    const { latitudeDeg, longitudeDeg } = geodesic.direct(
      BASE.latitudeDeg,
      BASE.longitudeDeg,
      (137.5 * index) % 360,
      distanceM,
    );
    const { horizontal, vertical } = SETUP.precision.at(distanceM, 0);
    const draw = ({ totalM, constantM }: typeof horizontal): number =>
      constantM * random.normal() + times * Math.sqrt(totalM ** 2 - constantM ** 2) * random.normal();
    const [sigmaH, sigmaV] = [Math.hypot(horizontal.totalM, 0.01), Math.hypot(vertical.totalM, 0.02)];
    const east = baseM + draw(horizontal) + (index === 2 ? blunderM : 0);
    const [northM, upM] = [draw(horizontal), draw(vertical)];
    const place = (e: number, n: number, u: number, own: Partial<PointRow>): PointRow =>
      pointRow({
        pointId: `C${String(index)}`,
        latitudeDeg: latitudeDeg + n / 110_900,
        longitudeDeg: longitudeDeg + e / (111_320 * Math.cos((latitudeDeg * Math.PI) / 180)),
        ellipsoidalHeightM: 1000 + u,
        baseId: 'B',
        firstEpochMs: 3_600_000 * 3 * index,
        lastEpochMs: 3_600_000 * 3 * index,
        sigmaEastM: sigmaH,
        sigmaNorthM: sigmaH,
        sigmaUpM: sigmaV,
        place: { sourceIndex: 0, line: index + 1 },
        ...own,
      });
    day.points.push(place(east, northM, upM, {}));
    day.control.push(place(0, 0, 0, { baseId: null, sigmaHorizontalM: 0.004, sigmaVerticalM: 0.006 }));
  }
  return day;
}

function rowsOf({ points, control }: Day): Parameters<typeof dayOfCheck>[0] {
  const found = checkControl(points, control, 'control.csv', SETUP);
  if (!found.ok) throw new Error(JSON.stringify(found.problems));
  return found.value.rows;
}

describe('controlContrasts', () => {
  it('lets what is common to the base fall out, and one wrong point stay where it is', () => {
    const [plain, shifted, wrong] = [{}, { baseM: 0.5 }, { blunderM: 2 }].map((own) =>
      controlContrasts(rowsOf(dayOf(4, 8, 1, own)), SETUP),
    );
    plain?.forEach(({ contrasts }, place) => {
      expect(contrasts).toHaveLength(3);
      contrasts.forEach(({ differenceM }, axis) => {
        expect(shifted?.[place]?.contrasts[axis]?.differenceM).toBeCloseTo(differenceM, 3);
        const moved = (wrong?.[place]?.contrasts[axis]?.differenceM ?? NaN) - differenceM;
        if (place === 2 && axis === 0) expect(moved).toBeCloseTo(2, 2);
        else expect(Math.abs(moved)).toBeLessThan(0.03);
      });
    });
  });

  // The variance of a median of n normal values is π/2n of one of theirs (textbook); of an even count it is the mean of the middle two.
  it.each([8, 9])('is the residual less the median of the others, and its variance theirs over it: of %i', (count) => {
    const rows = [...rowsOf(dayOf(4, count, 1))];
    const contrasted = controlContrasts(rows, SETUP);
    const north = rows.map(({ secondM }) => secondM ?? NaN);
    contrasted.forEach(({ contrasts }, place) => {
      const others = north.filter((_, index) => index !== place).sort((a, b) => a - b);
      const middle = others.length / 2;
      const medianM =
        others.length % 2 === 1
          ? (others[Math.floor(middle)] ?? NaN)
          : ((others[middle - 1] ?? NaN) + (others[middle] ?? NaN)) / 2;
      const own = contrasts[1];
      expect(own?.axis).toBe('north');
      expect(own?.differenceM).toBeCloseTo((north[place] ?? NaN) - medianM, 12);
    });
    const growingOf = (place: number): number => (contrasted[place]?.contrasts[1]?.stands[0]?.growingM[1] ?? NaN) ** 2;
    const whole = contrasted.map((_, place) => growingOf(place)).reduce((sum, value) => sum + value, 0);
    const n = count - 1;
    expect(contrasted[0]?.contrasts[1]?.growingM2).toBeCloseTo(
      growingOf(0) + ((Math.PI / 2 / n) * (whole - growingOf(0))) / n,
      12,
    );
  });

  // With a beginning and no end, half the beginning once stood for the middle: two points of one hour were decades apart.
  it('has no middle for an occupation that states its beginning alone', () => {
    const { points, control } = dayOf(4, 8, 1);
    const middles = (rows: readonly PointRow[]): readonly unknown[] =>
      controlContrasts(rowsOf({ points: [...rows], control }), SETUP).flatMap(({ contrasts }) =>
        contrasts.flatMap(({ stands }) => stands.map(({ middleMs }) => middleMs)),
      );
    expect(new Set(middles(points)).size).toBe(8);
    expect(new Set(middles(points.map((point) => ({ ...point, lastEpochMs: null }))))).toEqual(new Set([null]));
  });

  it('says nothing of few points, or from a base that no session describes', () => {
    expect(controlContrasts(rowsOf(dayOf(4, 4, 1)), SETUP).every(({ contrasts }) => contrasts.length === 0)).toBe(true);
    expect(controlContrasts(rowsOf(dayOf(4, 8, 1)), { ...SETUP, bases: [] })).toEqual([]);
  });

  it('finds a noisier day in nine of ten, and a clean one noisier in no more than 1 of 100', () => {
    const share = (times: number, days: number, own = {}): number =>
      Array.from(
        { length: days },
        (_, seed) => noisyDay(controlContrasts(rowsOf(dayOf(40 + seed, 14, times, own)), SETUP))?.isNoisier,
      ).filter(Boolean).length / days;
    expect(share(4, 40)).toBeGreaterThan(0.85);
    // Three standard errors of 0.01 in 150 days are 0.024.
    expect(share(1, 150)).toBeLessThan(0.035);
    expect(share(1, 60, { blunderM: 0.5 })).toBeLessThan(0.05);
  }, 60_000);
});

describe('dayOfCheck', () => {
  it('leaves control with a mistake in it out of the noise', () => {
    const { day, usesControl, search } = dayOfCheck(rowsOf(dayOf(4, 10, 1, { baseM: 0.5 })), [], SETUP);
    expect(search?.report.findings[0]?.cause).toBe('base-coordinate');
    expect([day, usesControl]).toEqual([null, false]);
  });

  it('is applied to the covariances of the checks where it is noisier', () => {
    const noisy = dayOf(7, 14, 5);
    const { day } = dayToApply(noisy.points, noisy.control, null, SETUP);
    expect(day).toMatchObject({ part: 'growing', isNoisier: true, isApplied: true });
    const scaled = checkControl(noisy.points, noisy.control, 'control.csv', { ...SETUP, day });
    const plain = rowsOf(noisy);
    if (!scaled.ok) throw new Error('no rows');
    const { horizontal } = SETUP.precision.at(plain.at(13)?.distanceM ?? 0, 0);
    // At the farthest point: what was stated, and the factor less one times what grows.
    expect(scaled.value.rows.at(13)?.covariance?.eeM2).toBeCloseTo(
      (plain.at(13)?.covariance?.eeM2 ?? NaN) +
        ((day?.allowed ?? NaN) - 1) * (horizontal.totalM ** 2 - horizontal.constantM ** 2),
      8,
    );
    expect([...scaled.value.rows].filter(({ verdict }) => verdict === 'exceeds').length).toBeLessThan(
      [...plain].filter(({ verdict }) => verdict === 'exceeds').length,
    );
  });
});
