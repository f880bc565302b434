import { describe, expect, it } from 'vitest';
import { meanDirection } from '../../../../src/core/planning/siting/mean-direction.js';

describe('meanDirection', () => {
  it('does not care about the 180th meridian or the poles', () => {
    const across = meanDirection([
      { latitudeDeg: 10, longitudeDeg: 179 },
      { latitudeDeg: 10, longitudeDeg: -179 },
    ]);
    expect(Math.abs(across.longitudeDeg)).toBeCloseTo(180, 10);
    expect(across.latitudeDeg).toBeCloseTo(10, 1);
    const around = meanDirection([0, 90, 180, 270].map((longitudeDeg) => ({ latitudeDeg: 89, longitudeDeg })));
    expect(around.latitudeDeg).toBeCloseTo(90, 6);
  });

  it('is the place itself of one, and the first of places that cancel', () => {
    const one = meanDirection([{ latitudeDeg: -31.5, longitudeDeg: 21.4 }]);
    expect(one.latitudeDeg).toBeCloseTo(-31.5, 12);
    expect(one.longitudeDeg).toBeCloseTo(21.4, 12);
    const first = { latitudeDeg: 20, longitudeDeg: 30 };
    expect(meanDirection([first, { latitudeDeg: -20, longitudeDeg: -150 }])).toBe(first);
  });
});
