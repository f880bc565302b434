import { describe, expect, it } from 'vitest';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { pairControl } from '../../../../src/tasks/site/control/pair-control.js';
import type { ControlPair, MeasuredPoint, PairSetup } from '../../../../src/tasks/site/control/pair-control.js';
import { ownVarianceM2, sharedBases, sharedErrors } from '../../../../src/tasks/site/control/shared-base.js';
import { pointRow } from '../../../support/check-setup.js';
import { entryAt } from '../../../../src/records/present.js';
import type { BaseSettings } from '../../../../src/records/session.js';
import { valueOf } from '../../../support/shift-of-row.js';

const grid = valueOf(loadGridSystem('EPSG:25832'));
const AXES = { columns: ['easting_m', 'northing_m'], metresPerUnit: 1 } as const;
const SETUP: PairSetup = {
  grid,
  sourceAxes: AXES,
  siteAxes: AXES,
  heightKind: 'orthometric',
  sharedOf: () => null,
} as unknown as PairSetup;
const measured = (pointId: string, own: Partial<PointRow> = {}, line = 2): MeasuredPoint => {
  const row = pointRow({ pointId, place: { sourceIndex: 0, line }, ...own });
  const at = { latitudeDeg: 47, longitudeDeg: 12, gridFirst: 728_000, gridSecond: 5_209_000 };
  return { row, station: { ...row, ...at, orthometricHeightM: row.orthometricHeightM ?? 500 } };
};
const control = (pointId: string, own: Partial<PointRow> = {}): PointRow =>
  pointRow({
    pointId,
    gridFirst: 10,
    gridSecond: 20,
    orthometricHeightM: 400,
    place: { sourceIndex: 1, line: 7 },
    ...own,
  });
const paired = (rows: readonly PointRow[], points: readonly MeasuredPoint[], setup = SETUP) =>
  pairControl(rows, points, setup, { control: 'control.csv', points: 'points.csv' });
const only = (row: PointRow, point: MeasuredPoint, setup = SETUP): ControlPair =>
  entryAt(valueOf(paired([row], [point], setup)), 0);
const refusals = (rows: readonly PointRow[], points: readonly MeasuredPoint[], setup = SETUP): readonly string[] => {
  const found = paired(rows, points, setup);
  return found.problems.map(({ code, message }) => `${code}: ${message}`);
};

describe('control and the measurement of it', () => {
  it('are paired by their id, in the order of the control, with their roles', () => {
    const rows = ['A', 'B', 'C', 'D'].map((id, i) =>
      control(id, { role: entryAt(['fit', 'check', 'both', null] as const, i) }),
    );
    const pairs = valueOf(
      paired(
        rows,
        ['D', 'C', 'B', 'A', 'X'].map((id) => measured(id)),
      ),
    );
    expect(pairs.map(({ control: { pointId }, role }) => `${pointId} ${role}`)).toEqual([
      'A fit',
      'B check',
      'C fit',
      'D fit',
    ]);
    expect(pairs[0]?.source).toEqual({ eastM: 728_000, northM: 5_209_000 });
    expect(pairs[0]?.target).toEqual({ eastM: 10, northM: 20 });
  });

  it('are refused where an id occurs twice, or nothing pairs', () => {
    expect(refusals([control('A'), control('A')], [measured('A')])).toEqual([
      'value-duplicate-id: control A is already on line 7',
    ]);
    expect(refusals([control('A')], [measured('A', {}, 2), measured('A', {}, 5)])).toEqual([
      'value-duplicate-id: A occurs more than once in points.csv (lines 2, 5)',
    ]);
    expect(refusals([control('A')], [measured('B')])).toEqual([
      'csv-empty: no control of control.csv has the id of a point of points.csv',
      'value-unknown-id: control A was not measured and takes no part',
    ]);
    const found = paired([control('A'), control('Z')], [measured('A')]);
    expect([found.ok, found.problems.map(({ code, where }) => [code, where])]).toEqual([
      true,
      [['value-unknown-id', { source: 'control.csv', line: 7 }]],
    ]);
  });

  it('need a place or a height, and a height of the measured point where the control has one', () => {
    const nothing = { gridFirst: null, gridSecond: null, orthometricHeightM: null };
    expect(refusals([control('A', nothing)], [measured('A')])[0]).toMatch(/^value-missing: control A has neither/u);
    expect(refusals([control('A', { ...nothing, gridFirst: 10 })], [measured('A')])).toHaveLength(1);
    expect(refusals([control('A', { ...nothing, gridSecond: 10 })], [measured('A')])).toHaveLength(1);
    const level = only(control('A', { gridFirst: null }), measured('A'));
    expect([level.target, level.controlHeightM, level.measuredHeightM]).toEqual([null, 400, 500]);
    const plan = only(control('A', { orthometricHeightM: null }), measured('A'));
    expect([plan.target, plan.controlHeightM, plan.measuredHeightM]).toEqual([{ eastM: 10, northM: 20 }, null, null]);
    const ellipsoidal: PairSetup = { ...SETUP, heightKind: 'ellipsoidal' };
    expect(refusals([control('A', { ellipsoidalHeightM: 430 })], [measured('A')], ellipsoidal)).toEqual([
      'value-missing: the control has the ellipsoidal height of A and the measured point has none',
    ]);
    const none = only(control('A'), measured('A'), { ...SETUP, heightKind: null });
    expect([none.controlHeightM, none.measuredHeightM]).toEqual([null, null]);
  });

  it('have the sigmas of the point turned to the grid, and of the control as they are', () => {
    // True east and north make with those of the grid the angle of the convergence, about 3°·sin 47°; a variance along a unit
    // vector u is uᵀCu.
    const sigmas = { sigmaEastM: 0.03, sigmaNorthM: 0.01, correlationEn: 0.4 };
    const pair = only(control('A', sigmas), measured('A', sigmas));
    expect(pair.convergenceDeg).toBeCloseTo(3 * Math.sin((47 * Math.PI) / 180), 2);
    const c = { xx: 9e-4, xy: 0.4 * 3e-4, yy: 1e-4 };
    expect(pair.targetCovariance).toEqual({
      xx: expect.closeTo(c.xx, 12) as unknown,
      xy: expect.closeTo(c.xy, 12) as unknown,
      yy: expect.closeTo(c.yy, 12) as unknown,
    });
    const angle = (pair.convergenceDeg * Math.PI) / 180;
    // Grid east in true east and north: turned clockwise with grid north.
    const [e, n] = [
      [Math.cos(angle), -Math.sin(angle)],
      [Math.sin(angle), Math.cos(angle)],
    ] as const;
    const form = (u: readonly [number, number], v: readonly [number, number]): number =>
      u[0] * v[0] * c.xx + (u[0] * v[1] + u[1] * v[0]) * c.xy + u[1] * v[1] * c.yy;
    expect(pair.sourceCovariance.xx).toBeCloseTo(form(e, e), 12);
    expect(pair.sourceCovariance.xy).toBeCloseTo(form(e, n), 12);
    expect(pair.sourceCovariance.yy).toBeCloseTo(form(n, n), 12);
  });

  it('take one sigma in plan for both axes, and none for nothing', () => {
    expect(only(control('A', { sigmaHorizontalM: 0.02 }), measured('A')).targetCovariance).toEqual({
      xx: 4e-4,
      xy: 0,
      yy: 4e-4,
    });
    expect(only(control('A', { sigmaHorizontalM: 0.02, sigmaEastM: 1 }), measured('A')).targetCovariance.xx).toBe(4e-4);
    expect(only(control('A', { sigmaNorthM: 1 }), measured('A')).targetCovariance).toEqual({ xx: 0, xy: 0, yy: 0 });
    expect(only(control('A', { sigmaEastM: 0.2, sigmaNorthM: 0.1 }), measured('A')).targetCovariance.xy).toBe(0);
    const heights = (own: Partial<PointRow>, of: Partial<PointRow>) =>
      only(control('A', own), measured('A', of)).heightVarianceM2;
    expect(heights({ sigmaUpM: 0.03 }, { sigmaVerticalM: 0.04 })).toBeCloseTo(0.0025, 12);
    expect(heights({ sigmaUpM: 0.03, sigmaVerticalM: 9 }, {})).toBeCloseTo(0.0009, 12);
    expect(heights({}, {})).toBe(0);
  });

  it('leave out of the point what it shares with its base, and keep its correlation', () => {
    const shared = { id: 'B', names: 'B', horizontalM2: 1e-4, verticalM2: 9e-4 };
    const sigmas = { sigmaEastM: 0.03, sigmaNorthM: 0.02, correlationEn: 0.5, sigmaUpM: 0.05 };
    const free = only(control('A'), measured('A', sigmas));
    const bound = only(control('A'), measured('A', sigmas), { ...SETUP, sharedOf: () => shared });
    expect(bound.shared).toEqual(shared);
    expect(bound.sourceCovariance.xx).toBeCloseTo(free.sourceCovariance.xx - 1e-4, 12);
    expect(bound.sourceCovariance.yy).toBeCloseTo(free.sourceCovariance.yy - 1e-4, 12);
    const correlation = ({ xx, xy, yy }: ControlPair['sourceCovariance']): number => xy / Math.sqrt(xx * yy);
    expect(correlation(bound.sourceCovariance)).toBeCloseTo(correlation(free.sourceCovariance), 12);
    expect(bound.heightVarianceM2).toBeCloseTo(0.0025 - 0.0009, 12);
  });
});

describe('what points of a base share', () => {
  const base = (id: string, own: Partial<BaseSettings> = {}): BaseSettings =>
    ({
      id,
      known: null,
      fromMs: null,
      toMs: null,
      sigmaHorizontalM: 0.01,
      sigmaVerticalM: 0.02,
      ...own,
    }) as BaseSettings;
  it('is the variance that it states, of the base that is named or the only one', () => {
    const one = sharedBases([base('B1')]);
    expect(one(pointRow({ baseId: 'B1' }))).toEqual({
      id: 'set-up 0',
      names: 'B1',
      horizontalM2: 1e-4,
      verticalM2: 4e-4,
    });
    expect(one(pointRow({ baseId: null }))?.names).toBe('B1');
    expect(one(pointRow({ baseId: 'B9' }))).toBeNull();
    const two = sharedBases([base('B1'), base('B2')]);
    expect(two(pointRow({ baseId: null }))).toBeNull();
    expect(two(pointRow({ baseId: 'B2' }))?.id).toBe('set-up 1');
    const known = { kind: 'geodetic' } as unknown as BaseSettings['known'];
    const same = sharedBases([base('B1', { known }), base('B2', { known })]);
    expect(same(pointRow({ baseId: 'B1' }))?.id).toBe(same(pointRow({ baseId: 'B2' }))?.id);
  });
  it('is nothing where neither sigma is stated, and what one of them is', () => {
    const of = (sigmaHorizontalM: number | null, sigmaVerticalM: number | null) =>
      sharedBases([base('B1', { sigmaHorizontalM, sigmaVerticalM })])(pointRow({ baseId: 'B1' }));
    expect(of(null, null)).toBeNull();
    expect(of(0.01, null)).toMatchObject({ horizontalM2: 1e-4, verticalM2: 0 });
    expect(of(null, 0.01)).toMatchObject({ horizontalM2: 0, verticalM2: 1e-4 });
  });
  it('leaves a tenth to the point at least, and is counted once a base', () => {
    expect(ownVarianceM2(10, 4)).toBe(6);
    expect(ownVarianceM2(10, 9.5)).toBe(1);
    expect(ownVarianceM2(10, 40)).toBe(1);
    const shared = { id: 'x', names: 'B', horizontalM2: 3, verticalM2: 0 };
    const pairs = [{ shared }, { shared: null }, { shared }];
    expect(sharedErrors(pairs, ({ horizontalM2 }) => horizontalM2)).toEqual([{ id: 'x', varianceM2: 3 }]);
    expect(sharedErrors(pairs, ({ verticalM2 }) => verticalM2)).toEqual([]);
  });
});
