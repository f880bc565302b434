import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { oneCentre } from '../../../../src/core/planning/siting/one-centre.js';
import type { OneCentre } from '../../../../src/core/planning/siting/one-centre.js';
import type { PlanPlace } from '../../../../src/core/planning/plan-point.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';

const geodesic = createGeodesic(WGS84);

interface Layout {
  readonly name: string;
  readonly points: readonly PlanPlace[];
  readonly rangesM: Float64Array;
}

/** Layouts of 3 to 40 points, 1 to 300 km across, everywhere; every fifth on the 180th meridian, every fifth at a pole, half weighted. */
function layouts(count: number): readonly Layout[] {
  const random = seededRandom(51);
  return Array.from({ length: count }, (_, i) => {
    const middle: PlanPlace =
      i % 5 === 0
        ? { latitudeDeg: random.between(-60, 60), longitudeDeg: 180 - random.between(-0.2, 0.2) }
        : i % 5 === 1
          ? { latitudeDeg: (i % 2 === 0 ? 1 : -1) * random.between(89.5, 90), longitudeDeg: random.between(-180, 180) }
          : { latitudeDeg: random.between(-80, 80), longitudeDeg: random.between(-180, 180) };
    const widthM = 10 ** random.between(3, 5.5);
    const points = Array.from({ length: 3 + random.index(38) }, () => {
      const end = geodesic.direct(
        middle.latitudeDeg,
        middle.longitudeDeg,
        random.between(0, 360),
        widthM * random.next() ** 0.7,
      );
      return { latitudeDeg: end.latitudeDeg, longitudeDeg: end.longitudeDeg };
    });
    const weighted = i % 2 === 1;
    return {
      name: String(i),
      points,
      rangesM: Float64Array.from(points, () => (weighted ? random.between(15_000, 60_000) : 30_000)),
    };
  });
}

function solve({ points, rangesM }: Layout): OneCentre {
  const found = oneCentre(geodesic, points, rangesM);
  if (!found.ok) throw new Error(found.problems[0]?.message ?? 'no answer');
  return found.value;
}

/** Largest ratio at a place; not pursued further once it is above `enough`. */
function worstRatio({ points, rangesM }: Layout, at: PlanPlace, enough: number): number {
  let worst = 0;
  for (let i = 0; i < points.length && worst <= enough; i += 1) {
    const point = points[i];
    if (point !== undefined)
      worst = Math.max(
        worst,
        geodesic.distanceM(at.latitudeDeg, at.longitudeDeg, point.latitudeDeg, point.longitudeDeg) / (rangesM[i] ?? 1),
      );
  }
  return worst;
}

interface Cell {
  readonly eastM: number;
  readonly northM: number;
}

/**
 * Brute force without the method under test: squares of an azimuthal equidistant plane about the
 * first point, split again and again down to 0.5 m. A ratio cannot change by more than the distance
 * moved over the smallest range, so a square whose middle is worse than the best known by more than
 * its half diagonal holds no better place and is dropped. The answer is between `least` and `best`.
 */
function byFineGrid(layout: Layout): { readonly least: number; readonly best: number } {
  const from = layout.points[0] ?? { latitudeDeg: 0, longitudeDeg: 0 };
  const metre = 1 / Math.min(...layout.rangesM);
  let best = worstRatio(layout, from, Infinity);
  let halfM = best * Math.max(...layout.rangesM) * 2;
  let cells: readonly Cell[] = [{ eastM: 0, northM: 0 }];
  let least = 0;
  while (halfM > 0.25) {
    halfM /= 2;
    const slack = halfM * Math.SQRT2 * metre;
    const judged = cells
      .flatMap(({ eastM, northM }) =>
        [-1, 1].flatMap((e) => [-1, 1].map((n): Cell => ({ eastM: eastM + e * halfM, northM: northM + n * halfM }))),
      )
      .map((cell) => {
        const at = geodesic.direct(
          from.latitudeDeg,
          from.longitudeDeg,
          (Math.atan2(cell.eastM, cell.northM) * 180) / Math.PI,
          Math.hypot(cell.eastM, cell.northM),
        );
        const ratio = worstRatio(layout, at, best + slack);
        best = Math.min(best, ratio);
        return { cell, ratio };
      });
    const kept = judged.filter(({ ratio }) => ratio - slack <= best);
    cells = kept.map(({ cell }) => cell);
    least = kept.reduce((lowest, { ratio }) => Math.min(lowest, ratio - slack), Infinity);
  }
  return { least, best };
}

describe('oneCentre', () => {
  for (const row of readReferenceTable('base-siting')) {
    it(`stands where another implementation of geodesics puts it: ${row.case}`, () => {
      const longitudes = row.numbers('longitudes_deg');
      const points = row
        .numbers('latitudes_deg')
        .map((latitudeDeg, i) => ({ latitudeDeg, longitudeDeg: longitudes[i] ?? 0 }));
      const found = solve({ name: row.case, points, rangesM: Float64Array.from(row.numbers('ranges_m')) });
      expect(Math.abs(found.latitudeDeg - row.number('latitude_deg'))).toBeLessThan(row.tolerance);
      const offsetDeg = Math.abs(found.longitudeDeg - row.number('longitude_deg'));
      expect(Math.min(offsetDeg, 360 - offsetDeg)).toBeLessThan(row.tolerance);
      expect(found.worstRatio).toBeCloseTo(row.number('worst_ratio'), 10);
    });
  }

  it('agrees with a brute-force search on a fine grid within 1 m on 50 layouts, over the 180th meridian and the poles too', () => {
    for (const layout of layouts(50)) {
      const found = solve(layout);
      const grid = byFineGrid(layout);
      const metre = 1 / Math.min(...layout.rangesM);
      expect(found.worstRatio, layout.name).toBeLessThanOrEqual(grid.best + 1e-12);
      expect(found.worstRatio, layout.name).toBeGreaterThanOrEqual(grid.least);
      expect(grid.best - grid.least, layout.name).toBeLessThan(metre);
      expect(worstRatio(layout, found, Infinity), layout.name).toBeCloseTo(found.worstRatio, 12);
    }
  });

  it('is never worse than the best of 10,000 random tries', () => {
    const random = seededRandom(52);
    const beaten: string[] = [];
    for (const layout of layouts(50)) {
      const found = solve(layout);
      // Support points first: they are the ones a better place would have to bring nearer.
      const order = [...found.support, ...layout.points.keys()];
      const reachM = found.worstDistanceM * 1.5;
      for (let i = 0; i < 10_000; i += 1) {
        const at = geodesic.direct(
          found.latitudeDeg,
          found.longitudeDeg,
          random.between(0, 360),
          reachM * random.next() ** 2,
        );
        let beats = true;
        for (const p of order) {
          const point = layout.points[p];
          if (point === undefined || !beats) break;
          beats =
            geodesic.distanceM(at.latitudeDeg, at.longitudeDeg, point.latitudeDeg, point.longitudeDeg) /
              (layout.rangesM[p] ?? 1) <
            found.worstRatio - 1e-13;
        }
        if (beats) beaten.push(`${layout.name} try ${String(i)}`);
      }
    }
    expect(beaten).toEqual([]);
  });

  it('attains its largest ratio at every support point, and never falls below its lower bound', () => {
    for (const layout of layouts(50)) {
      const found = solve(layout);
      expect(found.iterations).toBeLessThanOrEqual(8);
      expect(found.support.length).toBeGreaterThanOrEqual(2);
      expect(found.support.length).toBeLessThanOrEqual(3);
      for (const i of found.support) {
        const point = layout.points[i];
        if (point === undefined) throw new Error('support outside the points');
        const d = geodesic.distanceM(found.latitudeDeg, found.longitudeDeg, point.latitudeDeg, point.longitudeDeg);
        expect(d / (layout.rangesM[i] ?? 1)).toBeCloseTo(found.worstRatio, 9);
      }
      expect(found.lowerBoundRatio).toBeLessThanOrEqual(found.worstRatio * (1 + 1e-12));
      expect(found.lowerBoundRatio).toBeGreaterThan(found.worstRatio * 0.5);
      if (found.support.length === 2) expect(found.lowerBoundRatio).toBeCloseTo(found.worstRatio, 9);
    }
  });

  it('divides the line between two points in proportion to their ranges', () => {
    const points = [
      { latitudeDeg: -31.5, longitudeDeg: 21.4 },
      { latitudeDeg: -31.2, longitudeDeg: 21.9 },
    ];
    const found = solve({ name: 'two', points, rangesM: Float64Array.of(20_000, 40_000) });
    const d = points.map((p) =>
      geodesic.distanceM(found.latitudeDeg, found.longitudeDeg, p.latitudeDeg, p.longitudeDeg),
    );
    expect((d[1] ?? 0) / (d[0] ?? 1)).toBeCloseTo(2, 9);
    expect(found.lowerBoundRatio).toBeCloseTo(found.worstRatio, 12);
  });

  it('stands on a single point, and on coincident ones', () => {
    const point = { latitudeDeg: 10, longitudeDeg: 180 };
    for (const points of [[point], [point, { latitudeDeg: 10, longitudeDeg: -180 }, point]]) {
      const found = solve({ name: 'one', points, rangesM: new Float64Array(points.length).fill(1000) });
      expect(found.worstDistanceM).toBeLessThan(1e-6);
    }
  });

  it('does not depend on the order of the points', () => {
    for (const layout of layouts(10)) {
      const found = solve(layout);
      const turned = solve({
        ...layout,
        points: [...layout.points].reverse(),
        rangesM: layout.rangesM.slice().reverse(),
      });
      // Across the line of two points far apart, 2 mm change their distances by some 10⁻¹⁰ m: by what the last digits of a double are.
      expect(
        geodesic.distanceM(found.latitudeDeg, found.longitudeDeg, turned.latitudeDeg, turned.longitudeDeg),
      ).toBeLessThan(5e-3);
    }
  });

  it('refuses no points, a range of zero, and a layout as wide as a continent', () => {
    const codes = (points: readonly PlanPlace[], rangesM: Float64Array): readonly string[] =>
      oneCentre(geodesic, points, rangesM).problems.map(({ code }) => code);
    expect(codes([], new Float64Array(0))).toEqual(['value-missing']);
    expect(codes([{ latitudeDeg: 0, longitudeDeg: 0 }], Float64Array.of(0))).toEqual(['value-out-of-range']);
    expect(
      codes(
        [
          { latitudeDeg: 0, longitudeDeg: 0 },
          { latitudeDeg: 0, longitudeDeg: 120 },
        ],
        Float64Array.of(1, 1),
      ),
    ).toEqual(['value-out-of-range']);
  });
});
