import { describe, expect, it } from 'vitest';
import type { PlanShape } from '../../../../src/records/reports/parts/plan-shape.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { densifyShapes } from '../../../../src/tasks/plan/targets/densify-shapes.js';
import { explainPlan } from '../../../../src/tasks/plan/explain-plan.js';
import { locateRows } from '../../../../src/tasks/plan/targets/locate-rows.js';
import { placeBases } from '../../../../src/tasks/plan/place-bases.js';
import { planDays, timetablePoint } from '../../../../src/tasks/plan/plan-days.js';
import { predictTargets } from '../../../../src/tasks/plan/targets/predict-targets.js';
import { geodesic, setupOf, target } from '../plan-fixture.js';
import { pointRow } from '../../../support/check-setup.js';

function row(pointId: string, more: Partial<PointRow> = {}): PointRow {
  return pointRow({
    pointId,
    latitudeDeg: -31,
    longitudeDeg: 21,
    place: { sourceIndex: 0, line: 7 },
    ...more,
  });
}
const SYSTEMS = {
  grid: null,
  fixesSystem: { name: 'anywhere', areaOfUse: null },
  geoid: null,
  sources: ['points.csv'],
};

describe('locateRows', () => {
  it('takes the ellipsoidal height, else H + N of the row, else none', () => {
    const located = locateRows(
      [
        row('a', { ellipsoidalHeightM: 5, orthometricHeightM: 1 }),
        row('b', { orthometricHeightM: 10, geoidHeightM: 30 }),
        row('c', { orthometricHeightM: 10 }),
      ],
      SYSTEMS,
    );
    expect(located.ok ? located.value.map(({ ellipsoidalHeightM }) => ellipsoidalHeightM) : []).toEqual([5, 40, null]);
  });

  it('keeps the first of several occupations, leaves out rows without a place, and refuses a point given twice', () => {
    const fine = locateRows(
      [
        row('a', { occupation: '1' }),
        row('a', { occupation: '2' }),
        row('lost', { latitudeDeg: null, longitudeDeg: null, verdict: 'rejected' }),
      ],
      SYSTEMS,
    );
    expect(fine.ok ? fine.value.map(({ id }) => id) : []).toEqual(['a']);
    const twice = locateRows([row('a'), row('a', { place: { sourceIndex: 0, line: 9 } })], SYSTEMS);
    expect(twice.ok ? [] : twice.problems).toMatchObject([
      { code: 'value-duplicate-id', where: { source: 'points.csv', line: 9 } },
    ]);
  });
});

describe('densifyShapes', () => {
  const road: PlanShape = {
    id: 'road',
    kind: 'line',
    lines: [
      [
        { latitudeDeg: 0, longitudeDeg: 0, ellipsoidalHeightM: 0 },
        { latitudeDeg: 0, longitudeDeg: 0.02, ellipsoidalHeightM: 100 },
      ],
    ],
    polygons: [],
    toleranceHorizontalM: 0.2,
    toleranceVerticalM: null,
    source: 'work.geojson',
    path: 'features[0]',
  };

  it('numbers the points of a shape, no farther apart than the spacing, with its own tolerance or that of the run', () => {
    const dense = densifyShapes(geodesic, [road], 500, { horizontalM: 0.05, verticalM: 0.1 });
    if (!dense.ok) throw new Error('refused');
    expect(dense.value.map(({ id }) => id)).toEqual(['road:1', 'road:2', 'road:3', 'road:4', 'road:5', 'road:6']);
    expect(dense.value[2]).toMatchObject({
      kind: 'edge',
      featureId: 'road',
      toleranceHorizontalM: 0.2,
      toleranceVerticalM: 0.1,
      ellipsoidalHeightM: expect.closeTo(40, 9),
    });
  });

  it('says where a shape stands that cannot be served', () => {
    const flat: PlanShape = {
      ...road,
      id: 'block',
      kind: 'area',
      lines: [],
      polygons: [[road.lines[0] ?? []]],
      path: 'features[3]',
    };
    const dense = densifyShapes(geodesic, [road, flat], 500, { horizontalM: 0.05, verticalM: null });
    expect(dense.ok ? [] : dense.problems).toMatchObject([
      { code: 'geojson-structure', where: { source: 'work.geojson', path: 'features[3]' } },
    ]);
  });
});

describe('a planned target', () => {
  const setup = setupOf(
    { kind: 'given', base: { id: 'base', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 } },
    { baseErrorM: 2 },
  );
  const targets = [
    target('far', -31.0, 21.4, { toleranceHorizontalM: 0.045, toleranceVerticalM: null }),
    target('near', -31.49, 21.4),
  ];
  const placed = placeBases(setup, targets);
  if (!placed.ok) throw new Error('refused');
  const [far, near] = [...predictTargets(setup, targets, placed.value)];
  if (far === undefined || near === undefined) throw new Error('not planned');

  it('is explained with the numbers of the plan, each step with its source', () => {
    const steps = explainPlan(far, setup);
    const text = steps.flatMap((step) => [...step.substitution, ...step.result]).join('\n');
    expect(text).toContain(`circle ${far.at.uncertainty.circle95M.toFixed(4)} m: outside`);
    expect(text).toContain(`distance ${far.prediction.baselineM.toFixed(4)} m`);
    expect(text).toContain('no height difference: its term is left out');
    for (const step of steps) expect(step.source).not.toBe('');
    // Without a base error there is nothing to say of one.
    expect(explainPlan({ ...far, effect: null }, setup)).toHaveLength(steps.length - 1);
  });

  it('is visited as often as its plan says, no sooner than the separation allows, with control first, middle and last', () => {
    const points = [far, near].map((planned) => timetablePoint(planned, () => 7200, undefined));
    expect(points[0]?.occupations).toBe(2);
    const days = planDays(
      geodesic,
      placed.value.bases,
      new Map([['base', points]]),
      [{ id: 'C', latitudeDeg: -30.9, longitudeDeg: 21.4 }],
      {
        dayCount: 1,
        startS: 0,
        latestEndS: null,
        baseSetupS: 0,
        overheadS: 0,
        controlOccupationS: 180,
        averageSpeedKmh: 60,
        detourFactor: 1,
      },
    );
    if (!days.ok) throw new Error('refused');
    const visits = days.value[0]?.timetable.visits ?? [];
    expect(visits.filter(({ role }) => role.startsWith('control')).map(({ role }) => role)).toEqual([
      'control-first',
      'control-middle',
      'control-last',
    ]);
    const [first, second] = visits.filter(({ pointId }) => pointId === 'far');
    expect((second?.startS ?? 0) - (first?.endS ?? 0)).toBeGreaterThanOrEqual(7200);
  });
});
