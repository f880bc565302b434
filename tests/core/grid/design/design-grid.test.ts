import { describe, expect, it } from 'vitest';
import { bestScale, distortionOf } from '../../../../src/core/grid/design/best-scale.js';
import {
  designOf,
  gridOfDesign,
  isHardlyOblique,
  pointsExtent,
  ratiosOf,
} from '../../../../src/core/grid/design/design-grid.js';
import type { DesignPoint } from '../../../../src/core/grid/design/design-grid.js';
import { DESIGN_METHODS, designProjString, designWkt } from '../../../../src/core/grid/design/design-text.js';
import type { DesignMethod, GridDesign } from '../../../../src/core/grid/design/design-text.js';
import { falseOrigins } from '../../../../src/core/grid/design/false-origins.js';
import { emptyGridPairAndFactors } from '../../../../src/core/grid/factors/grid-factors.js';
import { gaussRadiusM } from '../../../../src/core/ellipsoid/radii.js';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import type { GeographicSystem } from '../../../../src/core/grid/systems/geographic-system.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';

const BASE: GeographicSystem = {
  code: 'EPSG:4148',
  name: 'Hartebeesthoek94',
  ellipsoid: WGS84,
  primeMeridianDeg: 0,
  datumShift: null,
  areaOfUse: null,
};
const START = {
  latitudeDeg: -31.5,
  longitudeDeg: 21.3,
  azimuthDeg: 40,
  falseEastingM: 50_000,
  falseNorthingM: 150_000,
};
const SETS: Readonly<Record<string, DesignMethod>> = {
  transverse: 'transverse-mercator',
  lambert: 'lambert',
  oblique: 'oblique-mercator',
};
const RADIANS = Math.PI / 180;

function foundIn(set: string, quantity: string, of: string): number {
  const radiusM = gaussRadiusM(WGS84, -31.5);
  if (quantity === 'radius') return radiusM;
  const [a = 0, b = 0] = of.split(' ').map(Number);
  const method = SETS[set];
  if (method !== undefined) {
    const grid = gridOfDesign({ ...START, method, scaleFactor: 1.000173 }, BASE);
    const pair = { first: NaN, second: NaN };
    grid?.forward(a, b, pair);
    return quantity === 'easting' ? pair.first : pair.second;
  }
  const design: GridDesign = { ...START, method: 'transverse-mercator', scaleFactor: 1 };
  const level = ratiosOf([{ latitudeDeg: -31.5, longitudeDeg: 21.3, ellipsoidalHeightM: 1100 }], design, BASE) ?? [];
  const { scaleFactor } = bestScale(level, 'largest');
  if (quantity === 'scale') return scaleFactor;
  const { eccentricitySquared: e2, semiMajorAxisM } = WGS84;
  const prime = semiMajorAxisM / Math.sqrt(1 - e2 * Math.sin(31.5 * RADIANS) ** 2);
  const longitudeDeg = 21.3 + a / (prime * Math.cos(31.5 * RADIANS)) / RADIANS;
  const [ratio = NaN] = ratiosOf([{ latitudeDeg: -31.5, longitudeDeg, ellipsoidalHeightM: b }], design, BASE) ?? [];
  return (scaleFactor * ratio - 1) * 1e6;
}

/** Points along an azimuth, 60 km by 8 km, on ground that is level to 20 m. */
function strip(azimuthDeg: number, seed: number): readonly DesignPoint[] {
  const random = seededRandom(seed);
  return Array.from({ length: 40 }, () => {
    const [along, across] = [random.between(-30_000, 30_000), random.between(-4000, 4000)];
    const [sin, cos] = [Math.sin(azimuthDeg * RADIANS), Math.cos(azimuthDeg * RADIANS)];
    return {
      latitudeDeg: -31.5 + (along * cos - across * sin) / 110_900,
      longitudeDeg: 21.3 + (along * sin + across * cos) / (111_320 * Math.cos(31.5 * RADIANS)),
      ellipsoidalHeightM: 1050 + random.between(-20, 20),
    };
  });
}

describe('a project grid', () => {
  for (const row of readReferenceTable('project-grid')) {
    it(`${row.case} is as ${row.source} has it`, () => {
      const value = foundIn(row.text('set'), row.text('quantity'), row.text('of'));
      expect(Math.abs(value - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }

  it('has the scale that no other betters, for the largest distortion and for that of 95 in 100', () => {
    const random = seededRandom(4);
    const ratios = Array.from({ length: 60 }, () => 1 - 1.6e-4 + 4e-5 * random.normal());
    for (const measure of ['largest', 'p95'] as const) {
      const best = bestScale(ratios, measure);
      expect(distortionOf(ratios, best.scaleFactor, measure)).toBeCloseTo(best.distortion, 9);
      for (let i = 0; i < 2000; i += 1)
        expect(distortionOf(ratios, 1 + 4e-4 * random.next(), measure)).toBeGreaterThan(best.distortion - 1e-12);
    }
    expect(bestScale(ratios, 'p95').distortion).toBeLessThan(bestScale(ratios, 'largest').distortion);
  });

  it.each([
    ['transverse-mercator', 5],
    ['lambert', 92],
    ['oblique-mercator', 40],
  ] as const)('of %s is the best along its own axis, and no other line or scale betters it', (method, azimuthDeg) => {
    const points = strip(azimuthDeg, 7);
    const extent = pointsExtent(points);
    expect(Math.abs(extent.azimuthDeg - azimuthDeg)).toBeLessThan(4);
    expect(extent.ratio).toBeLessThan(0.25);
    const all = DESIGN_METHODS.map((one) => designOf(points, BASE, one, 'largest')!);
    const own = all.find(({ design }) => design.method === method)!;
    for (const other of all) expect(own.distortion).toBeLessThanOrEqual(other.distortion + 1.5e-6);
    const random = seededRandom(9);
    for (let i = 0; i < 200; i += 1) {
      const design = {
        ...own.design,
        latitudeDeg: own.design.latitudeDeg + (method === 'lambert' ? 0.4 * random.normal() : 0),
        longitudeDeg: own.design.longitudeDeg + (method === 'transverse-mercator' ? 0.4 * random.normal() : 0),
        azimuthDeg: Math.min(
          87,
          Math.max(3, own.design.azimuthDeg + (method === 'oblique-mercator' ? 10 * random.normal() : 0)),
        ),
      };
      const ratios = ratiosOf(points, design, BASE)!;
      // Central line and scale are rounded: half a ppm of the scale, and what a hundredth of a degree makes.
      expect(bestScale(ratios, 'largest').distortion).toBeGreaterThan(own.distortion - 1e-6);
    }
    expect(own.design.scaleFactor).toBe(Number(own.design.scaleFactor.toFixed(6)));
  });

  // A corridor and its image in the meridian of its middle are one figure to any grid: distortion must be the same, and north is north in both.
  it.each([95, 110, 133, 150, 168])(
    'of a corridor at %i degrees is the image of that of the other side',
    (azimuthDeg) => {
      const points = strip(azimuthDeg, 3);
      const { longitudeDeg: middleDeg } = pointsExtent(points);
      const image = points.map((point) => ({ ...point, longitudeDeg: 2 * middleDeg - point.longitudeDeg }));
      const [own, other] = [points, image].map((of) => designOf(of, BASE, 'oblique-mercator', 'largest')!);
      expect(own!.distortion).toBeCloseTo(other!.distortion, 6);
      expect(own!.design.azimuthDeg).toBeGreaterThan(270);
      // The middle is rounded to a hundredth of a degree, to one side in both, and the least is flat.
      expect(Math.abs(own!.design.azimuthDeg + other!.design.azimuthDeg - 360)).toBeLessThan(3);
      const out = emptyGridPairAndFactors();
      for (const { latitudeDeg, longitudeDeg } of points) {
        gridOfDesign(own!.design, BASE)!.forwardWithFactors(latitudeDeg, longitudeDeg, out);
        expect(Math.abs(out.convergenceDeg)).toBeLessThan(0.5);
      }
    },
  );
  it.each([
    [3, true],
    [3.1, false],
    [45, false],
    [87, true],
    [273, true],
    [300, false],
    [357, true],
  ])('lies along a meridian or a parallel at %d degrees: %s', (azimuthDeg, expected) => {
    const design: GridDesign = { ...START, azimuthDeg, method: 'oblique-mercator', scaleFactor: 1 };
    expect(isHardlyOblique(design)).toBe(expected);
    expect(isHardlyOblique({ ...design, method: 'lambert' })).toBe(false);
  });

  it('lies along the shorter way across the date line', () => {
    const points = [179.8, -179.8].map((longitudeDeg) => ({ latitudeDeg: -17, longitudeDeg, ellipsoidalHeightM: 10 }));
    const extent = pointsExtent(points);
    expect(Math.abs(extent.longitudeDeg)).toBeCloseTo(180, 9);
    expect(extent.azimuthDeg).toBeCloseTo(90, 6);
  });

  it('cannot be a Lambert over the equator', () => {
    const points = [-0.001, 0.001].map((latitudeDeg) => ({ latitudeDeg, longitudeDeg: 10, ellipsoidalHeightM: 0 }));
    expect(designOf(points, BASE, 'lambert', 'largest')).toBeNull();
    expect(designOf(points, BASE, 'transverse-mercator', 'largest')).not.toBeNull();
  });

  it('has coordinates that are positive and apart from each other and from those of the national grid', () => {
    const found = falseOrigins(
      [-30_000, 30_000],
      [-40_000, 25_000],
      [
        [-68_000, -8000],
        [3_450_000, 3_520_000],
      ],
    )!;
    const spans = [found.eastings, found.northings, [8000, 68_000], [3_450_000, 3_520_000]] as const;
    for (const [at, a] of spans.slice(0, 2).entries())
      for (const b of spans.slice(at + 1)) expect(a[0] > b[1] + 20_000 || b[0] > a[1] + 20_000).toBe(true);
    expect(found.eastings[0]).toBeGreaterThanOrEqual(10_000);
    expect(found.falseEastingM % 10_000).toBe(0);
    expect(falseOrigins([0, 1], [0, 1], [[-1e9, 1e9]])).toBeNull();
  });

  it('is written as a PROJ string and as WKT2 with the same numbers', () => {
    const design: GridDesign = { ...START, method: 'oblique-mercator', scaleFactor: 1.000173 };
    expect(designProjString(design, WGS84)).toBe(
      '+proj=omerc +lat_0=-31.5 +lonc=21.3 +alpha=40 +gamma=40 +k_0=1.000173 +x_0=50000 +y_0=150000 +a=6378137 +rf=298.257223563 +units=m',
    );
    const wkt = designWkt(design, BASE, 'A "grid"');
    expect(wkt).toContain('PROJCRS["A ""grid""",');
    expect(wkt).toContain('PARAMETER["Angle from Rectified to Skew Grid",40,');
    expect(wkt).toContain('ID["EPSG",4148]');
  });
});
