import { describe, expect, it } from 'vitest';
import { gridOf } from '../../grid/systems.js';

const DATE_LINE = gridOf('+proj=cass +lat_0=10 +lon_0=179 +ellps=WGS84');
const OTHER_SIDE = gridOf('+proj=cass +lat_0=10 +lon_0=-179 +ellps=WGS84');

describe('Cassini-Soldner', () => {
  it('is the same on either side of the 180th meridian', () => {
    const beyond = { first: NaN, second: NaN };
    const mirrored = { first: NaN, second: NaN };
    expect(DATE_LINE.forward(11, -179, beyond)).toBe('ok');
    expect(OTHER_SIDE.forward(11, 179, mirrored)).toBe('ok');
    // Two degrees of longitude east of the central meridian, and two west of it.
    expect(beyond.first).toBeCloseTo(-mirrored.first, 6);
    expect(beyond.second).toBeCloseTo(mirrored.second, 6);
    expect(beyond.first).toBeGreaterThan(200_000);
    const place = { latitudeDeg: NaN, longitudeDeg: NaN };
    expect(DATE_LINE.inverse(beyond.first, beyond.second, place)).toBe('ok');
    expect(place.latitudeDeg).toBeCloseTo(11, 11);
    expect(place.longitudeDeg).toBeCloseTo(-179, 11);
  });

  it('refuses places farther from the central meridian than its series holds', () => {
    const out = { first: 1, second: 2 };
    expect(DATE_LINE.forward(0, 160, out)).toBe('coordinate-outside-domain');
    expect(OTHER_SIDE.forward(0, -160, out)).toBe('coordinate-outside-domain');
    expect(out).toEqual({ first: 1, second: 2 });
    // The parallel is short at 70 degrees, and the same 19 degrees of longitude are near.
    expect(DATE_LINE.forward(70, 160, out)).toBe('ok');
  });

  it('refuses grid values beyond a pole, or too far east for its series', () => {
    const place = { latitudeDeg: 1, longitudeDeg: 2 };
    for (const [first, second] of [
      [0, 12_000_000],
      [0, -14_000_000],
      [2_000_000, 0],
      [-2_000_000, 0],
      [0, 1e9],
    ] as const) {
      expect(DATE_LINE.inverse(first, second, place), `${String(first)}, ${String(second)}`).toBe(
        'coordinate-outside-domain',
      );
    }
    expect(place).toEqual({ latitudeDeg: 1, longitudeDeg: 2 });
  });
});
