import { describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import type { EllipsoidStation } from '../../../src/records/points/point-join.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import type { ReductionSetup } from '../../../src/tasks/reduce/reduction-setup.js';
import { chooseBase } from '../../../src/tasks/bases/choose-base.js';
import type { PreparedBase } from '../../../src/tasks/bases/prepare-bases.js';
import { reportBases } from '../../../src/tasks/bases/report-bases.js';
import { checkedStation, createStationMaker, stationFinder } from '../../../src/tasks/bases/stations.js';
import { pointRow } from '../../support/check-setup.js';
import { valueOf } from '../../support/shift-of-row.js';
import { makeFix } from '../../core/observation/make-fix.js';

const grid = valueOf(loadGridSystem('EPSG:25832'));
const SETUP = { grid, geoid: null } as unknown as Parameters<typeof checkedStation>[1];

describe('a station of a row', () => {
  const codes = (own: Partial<PointRow>, accepts = false): readonly unknown[] => {
    const { station, problems } = checkedStation(pointRow(own), SETUP, accepts);
    return [station !== null, problems.map(({ code, severity }) => `${severity} ${code}`)];
  };
  const place = { latitudeDeg: 47, longitudeDeg: 9 };
  it('is not asked of one that was rejected and has no place, and of every other', () => {
    expect(codes({ verdict: 'rejected' })).toEqual([false, []]);
    expect(codes({ verdict: 'rejected', ...place })).toEqual([true, []]);
    expect(codes({ verdict: 'rejected', gridFirst: 500_000, gridSecond: 5_200_000 })).toEqual([true, []]);
    expect(codes({ verdict: 'accepted', ...place })).toEqual([true, []]);
    expect(codes({ verdict: 'accepted' })[0]).toBe(false);
    expect(codes({ verdict: 'accepted' })[1]).not.toEqual([]);
  });

  it('outside the area of use is doubted: an error where another reading of its pair fits', () => {
    expect(codes({ latitudeDeg: 47, longitudeDeg: 29 })).toEqual([true, ['warning coordinate-outside-area']]);
    expect(codes({ gridFirst: 5_200_000, gridSecond: 500_000 })[1]).toEqual([expect.stringMatching(/^error coord/u)]);
    expect(codes({ gridFirst: 5_200_000, gridSecond: 500_000 }, true)[1]).toEqual([
      expect.stringMatching(/^warning coord/u),
    ]);
  });

  it('is kept in the order of its file, and those without a place are counted', () => {
    const maker = createStationMaker(SETUP, false);
    const rows = [
      pointRow({ pointId: 'A', ...place }),
      pointRow({ pointId: 'X', verdict: 'rejected' }),
      pointRow({ pointId: 'B', ...place }),
    ];
    for (const row of rows) maker.check(row);
    const { stations, rows: kept, withoutPlace } = maker.stationsOf(rows);
    expect(stations.map(({ pointId }) => pointId)).toEqual(['A', 'B']);
    expect(kept).toEqual([rows[0], rows[2]]);
    expect(withoutPlace).toBe(1);
  });
});

describe('a station asked for by its name', () => {
  const station = (pointId: string, occupation: string, line: number): EllipsoidStation =>
    ({ pointId, occupation, place: { sourceIndex: 0, line } }) as unknown as EllipsoidStation;
  const find = stationFinder(
    [station('A', '1', 2), station('A', '2', 3), station('B', '', 4), station('C', '1', 5)],
    'points.csv',
  );
  const found = (id: string): unknown => {
    const outcome = find(id, { line: 9 });
    return outcome.ok ? outcome.value.place.line : outcome.problems[0];
  };
  it('is that of the point, or of one occupation', () => {
    expect(['A@1', 'A@2', 'B', 'C', 'C@1'].map(found)).toEqual([2, 3, 4, 5, 5]);
  });
  it('is refused where several have the name or none has', () => {
    expect(found('A')).toMatchObject({
      code: 'value-duplicate-id',
      message: 'point A occurs 2 times in points.csv (lines 2, 3)',
      received: 'A',
      where: { line: 9 },
    });
    expect(found('b')).toMatchObject({
      code: 'value-unknown-id',
      message: 'there is no point b in points.csv',
      hint: 'ids are compared letter by letter: did you mean B?',
    });
    expect(found('B@')).toMatchObject({ code: 'value-unknown-id', hint: 'ids are compared letter by letter' });
    expect(find('nobody').problems[0]?.where).toBeUndefined();
  });
});

describe('the base of a fix', () => {
  const HOUR = 3_600_000;
  const base = (id: string, from: number | null = null, to: number | null = null): PreparedBase =>
    ({
      settings: { id, fromMs: from === null ? null : from * HOUR, toMs: to === null ? null : to * HOUR },
    }) as unknown as PreparedBase;
  const chosen = (baseId: string | null, hour: number | null, ...bases: readonly PreparedBase[]): unknown => {
    const found = chooseBase({ ...makeFix({}), baseId, epochMs: hour === null ? null : hour * HOUR }, bases);
    if (found === null) return null;
    return 'code' in found ? `${found.code}: ${found.message}` : bases.indexOf(found);
  };
  it.each([
    ['none, where the session describes none and the fix names none', null, 8, [], null],
    ['the only one', null, null, [base('B1')], 0],
    ['the only one, by its name', 'B1', 8, [base('B1')], 0],
    ['the one it names', 'B2', 8, [base('B1'), base('B2')], 1],
    ['the one that was running', null, 12, [base('B1', 6, 10), base('B1', 11, 15)], 1],
    ['the one that was running, at its ends', null, 10, [base('B1', 6, 10), base('B1', 11, 15)], 0],
    ['and at the other', null, 11, [base('B1', 6, 10), base('B1', 11, 15)], 1],
    ['the one that is open at its beginning', null, 3, [base('B1', null, 10), base('B1', 11, null)], 0],
    ['the one that is open at its end', null, 20, [base('B1', null, 10), base('B1', 11, null)], 1],
  ] as const)('is %s', (_, id, hour, bases, expected) => {
    expect(chosen(id, hour, ...bases)).toBe(expected);
  });
  it.each([
    ['a name without any base', 'B9', 8, [], 'base-unknown: base B9 is not described by the session'],
    ['another name', 'B9', 8, [base('B1')], 'base-unknown: base B9 is not described by the session'],
    [
      'a time before it',
      'B1',
      5,
      [base('B1', 6, 10)],
      'base-unknown: no base of the session was running at this epoch under the name B1',
    ],
    [
      'a time after it',
      null,
      10.5,
      [base('B1', 6, 10)],
      'base-unknown: no base of the session was running at this epoch',
    ],
    [
      'a time before one that ends open',
      null,
      5,
      [base('B1', 6)],
      'base-unknown: no base of the session was running at this epoch',
    ],
    [
      'a time after one that begins open',
      null,
      11,
      [base('B1', null, 10)],
      'base-unknown: no base of the session was running at this epoch',
    ],
    [
      'no time, beside a window',
      null,
      null,
      [base('B1', 6, 10)],
      'base-unknown: no base of the session was running at this epoch',
    ],
    [
      'no time, beside half a window',
      'B1',
      null,
      [base('B1', 6)],
      'base-unknown: no base of the session was running at this epoch under the name B1',
    ],
    [
      'no time, beside the other half',
      'B1',
      null,
      [base('B1', null, 6)],
      'base-unknown: no base of the session was running at this epoch under the name B1',
    ],
    ['two that are open', null, 8, [base('B1'), base('B2')], 'base-ambiguous: the epoch could belong to B1 or B2'],
  ] as const)('is refused with %s', (_, id, hour, bases, expected) => {
    expect(chosen(id, hour, ...bases)).toBe(expected);
  });
});

describe('the lines of equal distance about a base', () => {
  const geodesic = createGeodesic(WGS84);
  const bases = [
    {
      settings: { sigmaHorizontalM: 0.01, sigmaVerticalM: 0.02 },
      identity: { setupKey: 'k', setupName: 'B1' },
      origin: { at: 'mark', geodetic: { latitudeDeg: 47, longitudeDeg: 9, ellipsoidalHeightM: 0 } },
      antenna: { verticalM: 1.5 },
      correction: null,
    },
  ];
  const report = (farthestM: number | null, own: GridOrNone = grid) =>
    reportBases(
      { bases, geodesic, grid: own } as unknown as ReductionSetup,
      new Map(farthestM === null ? [] : [['k', farthestM]]),
      new Map(),
    )[0];
  type GridOrNone = typeof grid | null;
  it.each([
    // Of 0.2, 0.25, 0.5, 1 and 2 of the power of ten, the first of which five or fewer reach the farthest point.
    [1000, 200, 5],
    [1001, 250, 4],
    [1250, 250, 5],
    [1251, 500, 3],
    [2500, 500, 5],
    [2501, 1000, 3],
    [5000, 1000, 5],
    [5001, 2000, 3],
    [9999, 2000, 5],
    [0.5, 0.2, 2],
  ])('out to a farthest point at %d m are %d m apart, %d of them', (farthestM, stepM, count) => {
    const rings = report(farthestM)?.rings ?? [];
    expect(rings.filter((ring) => ring.stepM === stepM).map(({ radiusM }) => radiusM)).toEqual(
      Array.from({ length: count }, (_, i) => expect.closeTo((i + 1) * stepM, 9) as unknown),
    );
    // Ten times closer out to the first of those, itself left out.
    expect(rings.filter((ring) => ring.stepM !== stepM).map(({ radiusM }) => radiusM / stepM)).toEqual(
      Array.from({ length: 9 }, (_, i) => expect.closeTo((i + 1) / 10, 9) as unknown),
    );
  });
  it('have 72 places each, at their distance, from north on eastwards', () => {
    const ring = report(1000)?.rings[0];
    expect(ring?.places).toHaveLength(72);
    const east = ring?.places[18];
    const end = geodesic.direct(47, 9, 90, 200);
    const pair = { first: NaN, second: NaN };
    grid.forward(end.latitudeDeg, end.longitudeDeg, pair);
    expect([east?.first, east?.second]).toEqual([expect.closeTo(pair.first, 6), expect.closeTo(pair.second, 6)]);
  });
  it('are none where nothing was measured, and have no places without a grid', () => {
    expect(report(null)).toMatchObject({ id: 'B1', farthestM: null, rings: [], at: 'mark', antennaVerticalM: 1.5 });
    expect(report(1000, null)?.rings[0]?.places).toEqual([]);
    expect(report(1000, null)?.place).toBeNull();
  });
});
