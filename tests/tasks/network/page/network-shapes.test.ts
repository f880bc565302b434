import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import type { NetworkPair } from '../../../../src/records/reports/network-report.js';
import type { NetworkResults } from '../../../../src/tasks/network/network-results.js';
import { networkShapes } from '../../../../src/tasks/network/page/network-shapes.js';
import type { NetworkShape } from '../../../../src/tasks/network/page/network-shapes.js';

interface Place {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

const geodesic = createGeodesic(GRS80);
const SUMMARY = { ellipseMajor95M: 0.03, ellipseMinor95M: 0.01, ellipseAzimuthDeg: 30 };

/** Results as far as shapes look at them: stations by name, observations by their ends. */
function shapes(
  stations: Readonly<Record<string, readonly [number, number] | null>>,
  observed: readonly (readonly [string, string])[],
  pairs: readonly Partial<NetworkPair>[],
  scale: number,
  summary: object | null = SUMMARY,
): readonly NetworkShape[] {
  const names = Object.keys(stations);
  const results = {
    points: names.map((id) => {
      const place = stations[id];
      const geodetic =
        place == null ? null : { latitudeDeg: place[0], longitudeDeg: place[1], ellipsoidalHeightM: 100 };
      return { id, geodetic, summary };
    }),
    observations: observed.map(([fromId, toId]) => ({ fromId, toId })),
    systems: { ellipsoid: GRS80 },
    adjusted: { final: { solved: { list: { indexOf: new Map(names.map((id, index) => [id, index])) } } } },
  } as unknown as NetworkResults;
  return [...networkShapes(results, pairs as readonly NetworkPair[], scale)];
}

const ringsOf = (shape: NetworkShape | undefined): readonly (readonly Place[])[] =>
  shape?.geometry.kind === 'areas' ? shape.geometry.rings : [];

/** Twice the area in degrees: positive counter-clockwise. */
const turn = (ring: readonly Place[]): number =>
  ring.slice(0, -1).reduce((sum, { latitudeDeg, longitudeDeg }, index) => {
    const next = ring[index + 1] as Place;
    return sum + longitudeDeg * next.latitudeDeg - next.longitudeDeg * latitudeDeg;
  }, 0);

describe('networkShapes', () => {
  // By the definition of an ellipse, with lengths and azimuths of the geodesic: 30 m and 10 m at a scale of 1000, along 30°.
  const expectEllipse = (ring: readonly Place[], [latitudeDeg, longitudeDeg]: readonly [number, number]): void => {
    expect(ring).toHaveLength(73);
    expect(ring.at(-1)).toEqual(ring[0]);
    expect(turn(ring)).toBeGreaterThan(0);
    ring.forEach((corner, index) => {
      const angle = (index * Math.PI) / 36;
      const { distanceM, azimuthDeg } = geodesic.inverse(
        latitudeDeg,
        longitudeDeg,
        corner.latitudeDeg,
        corner.longitudeDeg,
      );
      // Plan lengths at the height of 100 m are longer by 1.6e-5.
      expect(distanceM).toBeCloseTo(Math.hypot(30 * Math.cos(angle), 10 * Math.sin(angle)), 2);
      const expected = 30 - (Math.atan2(10 * Math.sin(angle), 30 * Math.cos(angle)) * 180) / Math.PI;
      expect(Math.abs(((azimuthDeg ?? 0) - expected + 540) % 360) - 180).toBeCloseTo(0, 2);
    });
  };

  it('draws the ellipse of each station about it, its major axis along its azimuth', () => {
    const found = shapes({ A: [48, 11], LEVEL: null }, [], [], 1000);
    expect(found.map(({ kind }) => kind)).toEqual(['ellipse']);
    const [ring] = ringsOf(found[0]);
    expectEllipse(ring ?? [], [48, 11]);
  });

  it('draws the ellipse of a pair about its middle, and the line of an observation between its ends', () => {
    const found = shapes(
      { A: [48, 11], B: [48.01, 11.02] },
      [
        ['A', 'B'],
        ['A', 'NOBODY'],
      ],
      [
        { fromId: 'A', toId: 'B', summary: SUMMARY as NetworkPair['summary'] },
        { fromId: 'A', toId: 'NOBODY', summary: SUMMARY as NetworkPair['summary'] },
      ],
      1000,
    );
    expect(found.map(({ kind }) => kind)).toEqual([
      'observation',
      'observation',
      'ellipse',
      'ellipse',
      'relative-ellipse',
    ]);
    expect(found[0]?.geometry).toEqual({
      kind: 'lines',
      lines: [
        [
          { latitudeDeg: 48, longitudeDeg: 11 },
          { latitudeDeg: 48.01, longitudeDeg: 11.02 },
        ],
      ],
    });
    expect(found[1]?.geometry).toEqual({ kind: 'lines', lines: [] });
    const [ring = []] = ringsOf(found[4]);
    const middle = (axis: keyof Place): number => ((ring[0]?.[axis] ?? 0) + (ring[36]?.[axis] ?? 0)) / 2;
    expect(middle('latitudeDeg')).toBeCloseTo(48.005, 5);
    expect(middle('longitudeDeg')).toBeCloseTo(11.01, 5);
  });

  it('draws nothing of an ellipse that rounds to nothing, and of a station without one', () => {
    expect(ringsOf(shapes({ A: [48, 11] }, [], [], 1000, { ...SUMMARY, ellipseMajor95M: 0 })[0])).toEqual([]);
    expect(shapes({ A: [48, 11] }, [], [], 1000, null)).toEqual([]);
  });

  it.each([
    ['a little east of it', -179.9998],
    ['a little west of it', 179.9998],
  ])('cuts an ellipse at the 180th meridian: %s', (_, longitudeDeg) => {
    // 0.0002° of longitude at 60° are 11 m; the ellipse reaches 30 m along the parallel.
    const along = { ...SUMMARY, ellipseAzimuthDeg: 90 };
    const rings = ringsOf(shapes({ A: [60, longitudeDeg] }, [], [], 1000, along)[0]);
    expect(rings).toHaveLength(2);
    const width = ([...rings] as Place[][]).map((ring) => {
      expect(ring.at(-1)).toEqual(ring[0]);
      expect(turn(ring)).toBeGreaterThan(0);
      const longitudes = ring.map((place) => place.longitudeDeg);
      expect(longitudes.every((value) => Math.abs(value) <= 180)).toBe(true);
      expect(new Set(longitudes.map((value) => Math.sign(value))).size).toBe(1);
      // Two corners lie on the meridian, one above the other.
      expect(ring.slice(0, -1).filter((place) => Math.abs(place.longitudeDeg) === 180)).toHaveLength(2);
      const [west, east] = [Math.min(...longitudes), Math.max(...longitudes)];
      return geodesic.inverse(60, west, 60, east).distanceM;
    });
    const [far = 0, near = 0] = width.sort((a, b) => b - a);
    expect(far + near).toBeCloseTo(60, 1);
    expect(far - near).toBeCloseTo(2 * geodesic.inverse(60, 180, 60, longitudeDeg).distanceM, 1);
  });
});
