import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import type { PlanPlace } from '../../../../src/core/planning/plan-point.js';
import { timetable } from '../../../../src/core/planning/time/timetable.js';
import type { TimetableControl } from '../../../../src/core/planning/choose-control.js';
import type { Timetable, TimetablePoint, TimetableSettings } from '../../../../src/core/planning/time/timetable.js';
import { seededRandom } from '../../../support/seeded-random.js';

const geodesic = createGeodesic(WGS84);
const BASE: PlanPlace = { latitudeDeg: -31.5, longitudeDeg: 21.4 };

function from(azimuthDeg: number, distanceM: number): PlanPlace {
  const { latitudeDeg, longitudeDeg } = geodesic.direct(BASE.latitudeDeg, BASE.longitudeDeg, azimuthDeg, distanceM);
  return { latitudeDeg, longitudeDeg };
}

function work(id: string, place: PlanPlace, occupations = 1): TimetablePoint {
  return { id, ...place, occupations, occupationS: 180, separationS: 3600 };
}

const CONTROL: readonly TimetableControl[] = [
  { id: 'K1', ...from(10, 2000) },
  { id: 'K2', ...from(95, 30_000) },
  { id: 'K3', ...from(100, 50_000) },
];
const WORK = [
  work('P1', from(90, 10_000), 2),
  work('P2', from(92, 18_000)),
  work('P3', from(88, 24_000), 2),
  work('P4', from(60, 8000)),
];
const SETTINGS: TimetableSettings = {
  startS: 6 * 3600,
  latestEndS: null,
  baseSetupS: 1800,
  overheadS: 120,
  controlOccupationS: 180,
  averageSpeedKmh: 50,
  detourFactor: 1.3,
};

function plan(
  points: readonly TimetablePoint[] = WORK,
  change: Partial<TimetableSettings> = {},
  control: readonly TimetableControl[] = CONTROL,
): Timetable {
  const made = timetable(geodesic, BASE, control, points, { ...SETTINGS, ...change });
  if (!made.ok) throw new Error(made.problems[0]?.message ?? 'no timetable');
  return made.value;
}

describe('timetable', () => {
  it('visits control first, in the middle and last, the middle one beyond the farthest work point', () => {
    const { visits, cautions } = plan();
    expect(visits[0]).toMatchObject({ pointId: 'K1', role: 'control-first', occupation: 1 });
    expect(visits.at(-1)).toMatchObject({ pointId: 'K1', role: 'control-last', occupation: 2 });
    const middle = visits.findIndex(({ role }) => role === 'control-middle');
    expect(visits[middle]?.pointId).toBe('K2');
    const before = visits.slice(0, middle).filter(({ role }) => role === 'work' || role === 'repeat').length;
    expect(before).toBe(3);
    expect(cautions).toEqual([]);
  });

  it('makes every planned occupation once, and repeats only after the separation from the end of the one before', () => {
    const random = seededRandom(3);
    for (let layout = 0; layout < 20; layout += 1) {
      const points = Array.from({ length: 8 }, (_, i) =>
        work(`P${String(i)}`, from(random.between(0, 360), random.between(1000, 40_000)), 1 + random.index(3)),
      );
      const { visits, leftOut } = plan(points);
      expect(leftOut).toEqual([]);
      for (const point of points) {
        const own = visits.filter(({ pointId }) => pointId === point.id);
        expect(own.map(({ occupation }) => occupation)).toEqual(
          Array.from({ length: point.occupations }, (_, i) => i + 1),
        );
        for (let i = 1; i < own.length; i += 1)
          expect((own[i]?.startS ?? 0) - (own[i - 1]?.endS ?? 0)).toBeGreaterThanOrEqual(3600 - 1e-9);
      }
    }
  });

  it('reckons driving by geodesic distance, detour and speed, and never overlaps visits', () => {
    const { visits, driveM, endS } = plan();
    let at = BASE;
    let nowS = SETTINGS.startS + SETTINGS.baseSetupS;
    const places = new Map<string, PlanPlace>([...CONTROL, ...WORK].map((place) => [place.id, place]));
    for (const made of visits) {
      const place = places.get(made.pointId) ?? BASE;
      const d = geodesic.distanceM(at.latitudeDeg, at.longitudeDeg, place.latitudeDeg, place.longitudeDeg);
      expect(made.driveM).toBeCloseTo(1.3 * d, 6);
      expect(made.driveS).toBeCloseTo((1.3 * d * 3.6) / 50, 6);
      expect(made.arriveS).toBeCloseTo(nowS + made.driveS, 6);
      expect(made.startS).toBeCloseTo(made.arriveS + 120 + made.waitS, 6);
      expect(made.waitS).toBeGreaterThanOrEqual(-1e-6);
      expect(made.endS).toBeCloseTo(made.startS + 180, 6);
      at = place;
      nowS = made.endS;
    }
    expect(endS).toBe(visits.at(-1)?.endS);
    expect(driveM).toBeCloseTo(
      visits.reduce((sum, made) => sum + made.driveM, 0),
      6,
    );
  });

  it('leaves out what does not fit before the latest end, says so, and still ends at control in time', () => {
    const whole = plan();
    const latestEndS = whole.endS - 3600;
    const { visits, leftOut, cautions, endS } = plan(WORK, { latestEndS });
    expect(leftOut.length).toBeGreaterThan(0);
    expect(endS).toBeLessThanOrEqual(latestEndS);
    expect(visits.at(-1)?.role).toBe('control-last');
    expect(cautions.map(({ id }) => id)).toEqual(['timetable-left-out']);
    const made = visits.filter(({ role }) => role === 'work' || role === 'repeat').length;
    expect(made + leftOut.length).toBe(6);
  });

  it('warns without control, and where none lies beyond the farthest work point', () => {
    expect(plan(WORK, {}, []).cautions.map(({ id }) => id)).toEqual(['timetable-no-control']);
    expect(plan(WORK, {}, CONTROL.slice(0, 1)).cautions.map(({ id }) => id)).toEqual(['timetable-no-control-beyond']);
    expect(
      plan(WORK, {}, CONTROL.slice(0, 1))
        .visits.filter(({ pointId }) => pointId === 'K1')
        .map(({ role, occupation }) => [role, occupation]),
    ).toEqual([
      ['control-first', 1],
      ['control-middle', 2],
      ['control-last', 3],
    ]);
  });

  it('of equal starts takes a repeat, then the lower identifier', () => {
    const place = from(90, 10_000);
    const equal = ['B', 'C', 'A'].map((id) => ({ ...work(id, place, id === 'C' ? 1 : 2), separationS: 0 }));
    const order = ({ visits }: Timetable): readonly string[] =>
      visits.map(({ pointId, occupation }) => `${pointId}${String(occupation)}`);
    for (const points of [equal, [...equal].reverse()])
      expect(order(plan(points, {}, []))).toEqual(['A1', 'A2', 'B1', 'B2', 'C1']);
  });

  it('of control equally near takes the lower identifier', () => {
    const place = from(10, 2000);
    const three = ['K2', 'K1', 'K3'].map((id) => ({ id, ...place }));
    for (const points of [three, [...three].reverse()]) expect(plan(WORK, {}, points).visits[0]?.pointId).toBe('K1');
  });

  it('keeps the control where no work fits at all, and says where even that runs late', () => {
    const { visits, leftOut, cautions } = plan(WORK, { latestEndS: SETTINGS.startS });
    expect(visits.map(({ pointId, role }) => [pointId, role])).toEqual([
      ['K1', 'control-first'],
      ['K2', 'control-middle'],
      ['K1', 'control-last'],
    ]);
    expect(leftOut).toHaveLength(6);
    expect(cautions.map(({ id }) => id)).toEqual(['timetable-left-out', 'timetable-late']);
  });

  it('does not depend on the order of the points', () => {
    expect(plan([...WORK].reverse(), {}, [...CONTROL].reverse()).visits).toEqual(plan().visits);
  });

  it('refuses a day without work, a speed of zero and a detour shorter than the straight way', () => {
    const code = (points: readonly TimetablePoint[], change: Partial<TimetableSettings>): string | undefined =>
      timetable(geodesic, BASE, CONTROL, points, { ...SETTINGS, ...change }).problems[0]?.code;
    expect(code([], {})).toBe('value-missing');
    expect(code(WORK, { averageSpeedKmh: 0 })).toBe('config-invalid-value');
    expect(code(WORK, { detourFactor: 0.9 })).toBe('config-invalid-value');
    expect(code(WORK, { overheadS: Number.NaN })).toBe('config-invalid-value');
  });
});

describe('timetable within windows', () => {
  const hour = 3600;
  const within = (
    id: string,
    windows: readonly { readonly fromS: number; readonly toS: number }[],
  ): readonly TimetablePoint[] => WORK.map((point) => (point.id === id ? { ...point, windows } : point));
  const made = (points: readonly TimetablePoint[], change: Partial<TimetableSettings> = {}): Timetable => {
    const outcome = timetable(geodesic, BASE, CONTROL, points, { ...SETTINGS, ...change });
    if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
    return outcome.value;
  };

  it('has every occupation of a point whole within one of its windows, and waits for it', () => {
    const windows = [
      { fromS: 9 * hour, toS: 9 * hour + 200 },
      { fromS: 11 * hour, toS: 12 * hour },
    ];
    const visits = made(within('P1', windows)).visits.filter(({ pointId }) => pointId === 'P1');
    expect(visits).toHaveLength(2);
    for (const { startS, endS } of visits)
      expect(windows.some(({ fromS, toS }) => startS >= fromS && endS <= toS)).toBe(true);
    expect(visits.some(({ waitS }) => waitS > 0)).toBe(true);
  });

  it('leaves out what has no window long enough, and says so', () => {
    const { visits, leftOut, cautions } = made(within('P3', [{ fromS: 9 * hour, toS: 9 * hour + 179 }]));
    expect(visits.some(({ pointId }) => pointId === 'P3')).toBe(false);
    expect(leftOut).toEqual([
      { pointId: 'P3', occupation: 1 },
      { pointId: 'P3', occupation: 2 },
    ]);
    expect(cautions.map(({ id }) => id)).toContain('timetable-no-window');
  });

  it('changes nothing where a window is the whole day', () => {
    expect(made(within('P1', [{ fromS: 0, toS: 48 * hour }]))).toMatchObject({ visits: made(WORK).visits });
  });
});
