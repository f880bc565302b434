import { describe, expect, it } from 'vitest';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { GridPair } from '../../../src/core/grid/systems/grid-system.js';
import type { DistanceKind, PointJoin, Station } from '../../../src/records/points/point-join.js';
import { figureArea } from '../../../src/tasks/join/figure-area.js';
import { joinPoints } from '../../../src/tasks/join/join-points.js';
import type { JoinSetup } from '../../../src/tasks/join/join-points.js';
import { polarPoint } from '../../../src/tasks/join/polar-points.js';
import { gridOf, valueOf } from '../../core/grid/systems.js';
import { hasProgram, runProgram } from '../../support/external-programs.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';
import { slopeByCosines } from '../../support/slope-by-cosines.js';

const PLACES: readonly (readonly [system: string, latitudeDeg: number, longitudeDeg: number])[] = [
  ['EPSG:28355', -37.9, 145.2],
  ['EPSG:2049', -31.5, 21.4],
  ['EPSG:2154', 46, 3],
  ['EPSG:2230', 33, -117],
  ['EPSG:32633', 0.001, 15.2],
  ['EPSG:32633', 60, 14],
];

function setupOf(system: string): JoinSetup {
  const grid = gridOf(system);
  return { grid, geodesic: createGeodesic(grid.base.ellipsoid) };
}

function station(
  setup: JoinSetup,
  pointId: string,
  latitudeDeg: number,
  longitudeDeg: number,
  heightM: number | null,
): Station {
  const out: GridPair = { first: 0, second: 0 };
  expect(setup.grid.forward(latitudeDeg, longitudeDeg, out)).toBe('ok');
  return {
    pointId,
    occupation: '',
    latitudeDeg,
    longitudeDeg,
    gridFirst: out.first,
    gridSecond: out.second,
    ellipsoidalHeightM: heightM,
    orthometricHeightM: null,
    place: { sourceIndex: 0, line: 1 },
  };
}

function randomPair(
  random: SeededRandom,
  setup: JoinSetup,
  latitudeDeg: number,
  longitudeDeg: number,
): readonly [Station, Station] {
  const from = station(
    setup,
    'A',
    latitudeDeg + random.between(-0.2, 0.2),
    longitudeDeg + random.between(-0.2, 0.2),
    random.between(-20, 2000),
  );
  const end = setup.geodesic.direct(
    from.latitudeDeg,
    from.longitudeDeg,
    random.between(0, 360),
    10 ** random.between(0, 4.7),
  );
  return [from, station(setup, 'B', end.latitudeDeg, end.longitudeDeg, random.between(-20, 2000))];
}

describe('joinPoints', () => {
  it('has a slope distance that the usual reduction with Euler’s radius confirms within 0.2 mm over 60 km', () => {
    const random = seededRandom(31);
    for (const [system, latitudeDeg, longitudeDeg] of PLACES) {
      const setup = setupOf(system);
      for (let i = 0; i < 40; i += 1) {
        const [from, to] = randomPair(random, setup, latitudeDeg, longitudeDeg);
        const join = valueOf(joinPoints(from, to, setup));
        const usual = slopeByCosines(
          join.ellipsoidalDistanceM,
          from.ellipsoidalHeightM!,
          to.ellipsoidalHeightM!,
          join.radiusM,
        );
        expect(Math.abs(join.slopeDistanceM! - usual)).toBeLessThan(2e-4);
      }
    }
  });

  it('has no ground or slope distance where a height is not known, and the rest stands', () => {
    const setup = setupOf('EPSG:2049');
    const join = valueOf(
      joinPoints(station(setup, 'A', -31.5, 21.4, 1000), station(setup, 'B', -31.6, 21.5, null), setup),
    );
    expect([
      join.elevationFactor,
      join.groundDistanceM,
      join.slopeDistanceM,
      join.ellipsoidalHeightDifferenceM,
    ]).toEqual([null, null, null, null]);
    expect(join.gridDistanceM).toBeGreaterThan(14_000);
  });

  it('joins a point to itself without a direction', () => {
    const setup = setupOf('EPSG:2049');
    const a = station(setup, 'A', -31.5, 21.4, 1000);
    const join = valueOf(joinPoints(a, { ...a, ellipsoidalHeightM: 1003 }, setup));
    expect([join.azimuthDeg, join.gridBearingDeg, join.ellipsoidalDistanceM]).toEqual([null, null, 0]);
    expect(join.slopeDistanceM).toBeCloseTo(3, 8);
  });
});

describe('polarPoint', () => {
  it('undoes a join for every direction and kind of distance, within 0.02 mm', () => {
    const random = seededRandom(32);
    const lengths: readonly (readonly [DistanceKind, (join: PointJoin) => number])[] = [
      ['grid', (join) => join.gridDistanceM],
      ['ellipsoidal', (join) => join.ellipsoidalDistanceM],
      ['ground', (join) => join.groundDistanceM!],
    ];
    for (const [system, latitudeDeg, longitudeDeg] of PLACES) {
      const setup = setupOf(system);
      for (let i = 0; i < 15; i += 1) {
        const [from, to] = randomPair(random, setup, latitudeDeg, longitudeDeg);
        const join = valueOf(joinPoints(from, to, setup));
        for (const [distanceKind, length] of lengths) {
          for (const byAzimuth of [true, false]) {
            const line = {
              pointId: 'B',
              fromId: 'A',
              azimuthDeg: byAzimuth ? join.azimuthDeg : null,
              gridBearingDeg: byAzimuth ? null : join.gridBearingDeg,
              distanceM: length(join),
              distanceKind,
              heightDifferenceM: join.ellipsoidalHeightDifferenceM,
              place: from.place,
            };
            const found = valueOf(polarPoint(line, from, setup));
            expect(
              setup.geodesic.distanceM(found.latitudeDeg, found.longitudeDeg, to.latitudeDeg, to.longitudeDeg),
              `${system} ${distanceKind}`,
            ).toBeLessThan(2e-5);
            expect(found.ellipsoidalHeightM!).toBeCloseTo(to.ellipsoidalHeightM!, 9);
          }
        }
      }
    }
  });

  it('comes within 0.2 mm from a slope distance over 60 km', () => {
    const random = seededRandom(33);
    const setup = setupOf('EPSG:28355');
    for (let i = 0; i < 30; i += 1) {
      const [from, to] = randomPair(random, setup, -37.9, 145.2);
      const join = valueOf(joinPoints(from, to, setup));
      if (join.ellipsoidalDistanceM < 1000) continue;
      const line = {
        pointId: 'B',
        fromId: 'A',
        azimuthDeg: join.azimuthDeg,
        gridBearingDeg: null,
        distanceM: join.slopeDistanceM!,
        distanceKind: 'slope' as const,
        heightDifferenceM: join.ellipsoidalHeightDifferenceM,
        place: from.place,
      };
      const found = valueOf(polarPoint(line, from, setup));
      expect(
        setup.geodesic.distanceM(found.latitudeDeg, found.longitudeDeg, to.latitudeDeg, to.longitudeDeg),
      ).toBeLessThan(2e-4);
    }
  });

  it('says which height a distance wants', () => {
    const setup = setupOf('EPSG:2049');
    const from = station(setup, 'A', -31.5, 21.4, null);
    const line = {
      pointId: 'B',
      fromId: 'A',
      azimuthDeg: 10,
      gridBearingDeg: null,
      distanceM: 100,
      distanceKind: 'ground' as const,
      heightDifferenceM: null,
      place: from.place,
    };
    const found = polarPoint(line, from, setup);
    expect(found.ok ? '' : found.problems[0]!.message).toContain('ellipsoidal height of A');
    const slope = polarPoint({ ...line, distanceKind: 'slope' }, { ...from, ellipsoidalHeightM: 5 }, setup);
    expect(slope.ok ? '' : slope.problems[0]!.message).toContain('ellipsoidal_height_difference_m');
    const short = polarPoint(
      { ...line, distanceKind: 'slope', heightDifferenceM: 200 },
      { ...from, ellipsoidalHeightM: 5 },
      setup,
    );
    expect(short.ok ? '' : short.problems[0]!.code).toBe('value-out-of-range');
  });
});

describe('figureArea', () => {
  const setup = setupOf('EPSG:2049');
  const at = (pointId: string, westing: number, southing: number, heightM: number | null = 1000): Station => {
    const out = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(setup.grid.inverse(westing, southing, out)).toBe('ok');
    return {
      ...station(setup, pointId, out.latitudeDeg, out.longitudeDeg, heightM),
      gridFirst: westing,
      gridSecond: southing,
    };
  };
  const square = [
    at('A', -31_000, 3_482_000),
    at('B', -32_000, 3_482_000),
    at('C', -32_000, 3_481_000),
    at('D', -31_000, 3_481_000),
  ];

  it('is that of the square on the grid, and larger on the ground by the square of the combined factor', () => {
    const area = valueOf(figureArea(square, setup));
    expect(area.gridAreaM2).toBeCloseTo(1e6, 6);
    expect(area.gridPerimeterM).toBeCloseTo(4000, 8);
    const join = valueOf(joinPoints(square[0]!, square[2]!, setup));
    const combined = join.lineScaleFactor! * join.elevationFactor!;
    expect(area.groundAreaM2! / 1e6).toBeCloseTo(1 / combined ** 2, 8);
    expect(area.isClockwise).toBe(false);
    expect(valueOf(figureArea([...square].reverse(), setup)).isClockwise).toBe(true);
  });

  it('has no ground area where a height is not known', () => {
    expect(
      valueOf(figureArea([...square.slice(0, 3), { ...square[3]!, ellipsoidalHeightM: null }], setup)).groundAreaM2,
    ).toBeNull();
  });

  it('refuses figures without a single area: crossing, touching, folded back, or of two corners', () => {
    const [a, b, c, d] = square as [Station, Station, Station, Station];
    for (const corners of [
      [a, c, b, d],
      [a, b, { ...b, pointId: 'B2' }, c],
      [a, b, at('M', -31_500, 3_482_000), c],
      [a, b],
    ])
      expect(figureArea(corners, setup).ok, corners.map((corner) => corner.pointId).join()).toBe(false);
  });

  it.skipIf(!hasProgram('Planimeter'))('agrees with Planimeter on the ellipsoid (skipped where it is absent)', () => {
    const random = seededRandom(34);
    for (let i = 0; i < 20; i += 1) {
      const corners = [0, 1, 2, 3, 4, 5].map((step) => {
        const radius = random.between(0.01, 0.3);
        const angle = (step * Math.PI) / 3;
        return station(setup, String(step), -31.5 + radius * Math.cos(angle), 21.4 + radius * Math.sin(angle), null);
      });
      const area = valueOf(figureArea(corners, setup));
      const text = corners.map((corner) => `${corner.latitudeDeg} ${corner.longitudeDeg}`).join('\n');
      const [, perimeter = '', found = ''] = (
        runProgram('Planimeter', ['-e', '6378137', '1/298.257223563', '-p', '9'], `${text}\n`)[0] ?? ''
      ).split(' ');
      expect(Math.abs(area.ellipsoidalPerimeterM - Number(perimeter))).toBeLessThan(1e-6);
      expect(Math.abs(area.ellipsoidalAreaM2 / Math.abs(Number(found)) - 1)).toBeLessThan(1e-11);
    }
  });
});
