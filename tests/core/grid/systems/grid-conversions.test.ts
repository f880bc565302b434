import { describe, expect, it } from 'vitest';
import { gridAxes } from '../../../../src/core/grid/systems/grid-axes.js';
import { gridConversions } from '../../../../src/core/grid/systems/grid-conversions.js';
import { emptyGridPairAndFactors } from '../../../../src/core/grid/factors/grid-factors.js';
import { UNITS_BY_KEYWORD } from '../../../../src/core/grid/systems/grid-units.js';
import { gridProblem } from '../../../../src/core/grid/systems/grid-problem.js';
import type { ProjectionEngine } from '../../../../src/core/projection/projection-engine.js';
import type { AreaOfUse } from '../../../../src/core/projection/definition/system-definition.js';
import { gridOf } from '../systems.js';

const RADIUS_M = 6_371_000;
const AREA: AreaOfUse = { southDeg: -10, westDeg: -10, northDeg: 10, eastDeg: 10, description: 'invented' };

/** A plate carrée, with any of its functions replaced. */
function engine(change: Partial<ProjectionEngine>): ProjectionEngine {
  const forward: ProjectionEngine['forward'] = (latitudeRad, longitudeRad, out) => {
    out.eastM = RADIUS_M * longitudeRad;
    out.northM = RADIUS_M * latitudeRad;
    return true;
  };
  return {
    forward,
    inverse: (eastM, northM, out) => {
      out.latitudeRad = northM / RADIUS_M;
      out.longitudeRad = eastM / RADIUS_M;
      return true;
    },
    forwardWithFactors: (latitudeRad, longitudeRad, out) => {
      out.convergenceRad = 0;
      out.meridianScaleFactor = 1;
      out.parallelScaleFactor = 1;
      return forward(latitudeRad, longitudeRad, out);
    },
    ...change,
  };
}

const conversions = (change: Partial<ProjectionEngine> = {}): ReturnType<typeof gridConversions> =>
  gridConversions({
    engine: engine(change),
    axes: gridAxes('enu', UNITS_BY_KEYWORD['m']!),
    conformal: true,
    areaOfUse: AREA,
  });

describe('gridConversions', () => {
  it('does not ask a projection to go back inside its area of use', () => {
    const blind = conversions({ inverse: () => false });
    const out = emptyGridPairAndFactors();
    expect(blind.forward(5, 5, out)).toBe('ok');
    expect(blind.forwardWithFactors(5, 5, out)).toBe('ok');
    expect(out.first).toBeCloseTo((RADIUS_M * 5 * Math.PI) / 180, 6);
    expect(out.pointScaleFactor).toBe(1);
  });

  it('refuses a place outside the area that the projection cannot bring back, or brings back elsewhere', () => {
    const out = { ...emptyGridPairAndFactors(), first: 1, second: 2 };
    const elsewhere = (latitudeRad: number, longitudeRad: number): Partial<ProjectionEngine> => ({
      inverse: (eastM, northM, back) => {
        back.latitudeRad = northM / RADIUS_M + latitudeRad;
        back.longitudeRad = eastM / RADIUS_M + longitudeRad;
        return true;
      },
    });
    for (const change of [{ inverse: () => false }, elsewhere(2e-9, 0), elsewhere(0, 2e-9), elsewhere(NaN, 0)]) {
      const { forward, forwardWithFactors } = conversions(change);
      expect(forward(20, 20, out)).toBe('coordinate-outside-domain');
      expect(forwardWithFactors(20, 20, out)).toBe('coordinate-outside-domain');
      expect([out.first, out.second]).toEqual([1, 2]);
    }
    // A whole turn is the same place, and near a pole a longitude is a short way.
    expect(conversions(elsewhere(0, 2 * Math.PI)).forward(20, 20, out)).toBe('ok');
    expect(conversions(elsewhere(0, 2e-9)).forward(89, 20, out)).toBe('ok');
  });

  it('refuses latitudes and longitudes out of range, and what is no number, with and without factors', () => {
    const { forward, forwardWithFactors } = conversions();
    const out = emptyGridPairAndFactors();
    for (const convert of [forward, forwardWithFactors]) {
      for (const latitudeDeg of [90.000001, -91, NaN])
        expect(convert(latitudeDeg, 0, out)).toBe('latitude-out-of-range');
      for (const longitudeDeg of [-180.000001, 361, NaN])
        expect(convert(0, longitudeDeg, out)).toBe('longitude-out-of-range');
    }
  });

  it('refuses grid values that the projection has no place for, or a place that is projected elsewhere', () => {
    const place = { latitudeDeg: 1, longitudeDeg: 2 };
    const far = RADIUS_M * 0.5;
    expect(conversions({ inverse: () => false }).inverse(0, 0, place)).toBe('coordinate-outside-domain');
    expect(conversions({ forward: () => false }).inverse(far, far, place)).toBe('coordinate-outside-domain');
    expect(
      conversions({
        forward: (latitudeRad, longitudeRad, out) => {
          out.eastM = RADIUS_M * longitudeRad + 0.02;
          out.northM = RADIUS_M * latitudeRad;
          return true;
        },
      }).inverse(far, far, place),
    ).toBe('coordinate-outside-domain');
    for (const bad of [NaN, Infinity]) expect(conversions().inverse(bad, 0, place)).toBe('coordinate-outside-domain');
    expect(place).toEqual({ latitudeDeg: 1, longitudeDeg: 2 });
    expect(conversions().inverse(far, far, place)).toBe('ok');
  });
});

describe('places that a library projection has none for', () => {
  it.each([
    ['+proj=eqearth +lon_0=0 +ellps=WGS84', 0, 3e7],
    ['+proj=laea +lat_0=40 +lon_0=0 +ellps=WGS84', 3e7, 0],
    ['+proj=eqc +lon_0=0 +R=6371000', 1e8, 1e8],
    ['EPSG:4087', 1e8, 1e8],
    ['EPSG:4087', 0, 1.1e7],
    ['EPSG:2154', 700000, 1e9],
  ])('%s refuses %d, %d', (text, first, second) => {
    const place = { latitudeDeg: 1, longitudeDeg: 2 };
    expect(gridOf(text).inverse(first, second, place)).toBe('coordinate-outside-domain');
    expect(place).toEqual({ latitudeDeg: 1, longitudeDeg: 2 });
  });
});

describe('gridProblem', () => {
  const registered = gridOf('EPSG:2049');
  it('shows the value that is out of range', () => {
    expect(gridProblem('latitude-out-of-range', { latitudeDeg: 95.2, longitudeDeg: 21 }, registered)).toMatchObject({
      code: 'latitude-out-of-range',
      message: '95.2 is outside -90..90',
      expected: '-90..90',
    });
    expect(gridProblem('longitude-out-of-range', { latitudeDeg: -31, longitudeDeg: 400 }, registered)).toMatchObject({
      code: 'longitude-out-of-range',
      received: '400',
      expected: '-180..360',
    });
  });
  it('names a grid pair by the axes of the system, and the area where there is one', () => {
    const pair = gridProblem('coordinate-outside-domain', { first: 1e9, second: 5 }, registered);
    expect(pair.received).toBe('westing 1000000000, southing 5');
    expect(pair.hint).toContain('is for: South Africa');
    const place = gridProblem(
      'coordinate-outside-domain',
      { latitudeDeg: 1, longitudeDeg: 2 },
      gridOf('+proj=tmerc +lon_0=29 +ellps=WGS84'),
    );
    expect(place.received).toBe('latitude 1, longitude 2');
    expect(place.hint).toBeUndefined();
  });
});
