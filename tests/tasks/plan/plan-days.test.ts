import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { TimetablePoint } from '../../../src/core/planning/time/timetable.js';
import { planDays } from '../../../src/tasks/plan/plan-days.js';
import type { PlanDay, PlanDaysSettings } from '../../../src/tasks/plan/plan-days.js';

const GEODESIC = createGeodesic(WGS84);
const BASE = { id: 'B1', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
const SETTINGS: PlanDaysSettings = {
  dayCount: 1,
  startS: 0,
  latestEndS: 3 * 3600,
  baseSetupS: 1800,
  overheadS: 180,
  controlOccupationS: 180,
  averageSpeedKmh: 50,
  detourFactor: 1.3,
};

function work(count: number, occupations = 2): readonly TimetablePoint[] {
  return Array.from({ length: count }, (_, index) => ({
    id: `P${String(index).padStart(2, '0')}`,
    latitudeDeg: -31.5 + 0.01 * (index + 1),
    longitudeDeg: 21.4,
    occupations,
    occupationS: 600,
    separationS: 1800,
  }));
}

function plan(points: readonly TimetablePoint[], change: Partial<PlanDaysSettings>): readonly PlanDay[] {
  const made = planDays(GEODESIC, [BASE], new Map([['B1', points]]), [], { ...SETTINGS, ...change });
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value;
}

/** Point and occupation of every visit, and of all that is left out. */
function names(days: readonly PlanDay[]): readonly string[] {
  return days
    .flatMap(({ timetable }) => [...timetable.visits, ...timetable.leftOut])
    .map(({ pointId, occupation }) => `${pointId}@${String(occupation)}`)
    .sort();
}

describe('planDays', () => {
  const points = work(16);
  const wanted = points.flatMap(({ id }) => [`${id}@1`, `${id}@2`]).sort();

  it('visits each occupation once over the days, none left out', () => {
    const days = plan(points, { dayCount: 9 });
    expect(days.length).toBeGreaterThan(1);
    expect(names(days)).toEqual(wanted);
    expect(days.flatMap(({ timetable }) => timetable.leftOut)).toEqual([]);
    expect(days.flatMap(({ timetable }) => timetable.cautions.map(({ id }) => id))).not.toContain('timetable-left-out');
  });

  it('begins each day a day after the one before, and ends it in time', () => {
    for (const [day, { timetable }] of plan(points, { dayCount: 9 }).entries())
      for (const { arriveS, endS } of timetable.visits) {
        expect(arriveS).toBeGreaterThanOrEqual(86_400 * day);
        expect(endS).toBeLessThanOrEqual(86_400 * day + 3 * 3600);
      }
  });

  it('leaves out on the last day what no day has room for', () => {
    const days = plan(points, { dayCount: 2 });
    expect(days).toHaveLength(2);
    expect(days[0]?.timetable.leftOut).toEqual([]);
    expect(days[1]?.timetable.leftOut.length).toBeGreaterThan(0);
    expect(names(days)).toEqual(wanted);
  });

  it('is the one timetable that it was for one day', () => {
    const [day] = plan(points, {});
    expect(day?.timetable.leftOut.length).toBeGreaterThan(0);
    expect(names(plan(points, {}))).toEqual(wanted);
  });

  it('stops where a day has no room for any of the work', () => {
    const days = plan(
      work(2).map((point) => ({ ...point, occupationS: 4 * 3600 })),
      { dayCount: 5 },
    );
    expect(days).toHaveLength(1);
    expect(days[0]?.timetable.leftOut).toHaveLength(4);
  });
});
