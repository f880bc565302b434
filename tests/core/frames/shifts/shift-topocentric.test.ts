import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import {
  topocentricAtGeocentric,
  topocentricAtGeodetic,
} from '../../../../src/core/frames/shifts/shift-topocentric.js';
import { angleOf } from '../../../support/angle-of.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { apartM, geocentricOf } from '../../../support/shift-of-row.js';

const row = readReferenceTable('topocentric').find((candidate) => candidate.case === 'epsg-9836');
const origin = { xM: 3652755.3058, yM: 319574.6799, zM: 5201547.3536 };
const expected = { eastM: -189013.869, northM: -128642.04, upM: -4220.171 };

describe('topocentric coordinates', () => {
  it('from geocentric, IOGP-373-7-2 method 9836, example (O-12)', () => {
    if (row === undefined) throw new Error('the row is missing');
    const at = topocentricAtGeocentric(origin, WGS84);
    const point = { xM: row.number('x_m'), yM: row.number('y_m'), zM: row.number('z_m') };
    const found = at.fromGeocentric(point);
    for (const axis of ['eastM', 'northM', 'upM'] as const)
      expect(Math.abs(found[axis] - expected[axis])).toBeLessThanOrEqual(0.0006);
    expect(apartM(at.toGeocentric(expected), point)).toBeLessThan(0.001);
  });

  it('from geographic, IOGP-373-7-2 method 9837, example: from memory, the geocentric origin agrees to 0.1 mm', () => {
    const at = topocentricAtGeodetic({ latitudeDeg: 55, longitudeDeg: 5, ellipsoidalHeightM: 200 }, WGS84);
    expect(apartM(at.origin, origin)).toBeLessThan(0.0001);
    const place = {
      latitudeDeg: angleOf('53 48 33.82 N', 'latitude'),
      longitudeDeg: angleOf('2 07 46.38 E', 'longitude'),
      ellipsoidalHeightM: 73,
    };
    const found = at.fromGeodetic(place);
    for (const axis of ['eastM', 'northM', 'upM'] as const)
      expect(Math.abs(found[axis] - expected[axis])).toBeLessThanOrEqual(0.001);
    const back = at.toGeodetic(found);
    expect(Math.abs(back.latitudeDeg - place.latitudeDeg)).toBeLessThan(1e-12);
    expect(Math.abs(back.ellipsoidalHeightM - 73)).toBeLessThan(1e-7);
  });

  it('come back after a hundred round trips to a tenth of a micrometre', () => {
    const at = topocentricAtGeocentric(origin, WGS84);
    let local = expected;
    for (let i = 0; i < 100; i += 1) local = at.fromGeocentric(at.toGeocentric(local));
    expect(
      Math.hypot(local.eastM - expected.eastM, local.northM - expected.northM, local.upM - expected.upM),
    ).toBeLessThan(1e-7);
  });
});

describe.skipIf(!hasProgram('cct'))('a thousand random points against cct (skipped where cct is absent)', () => {
  it('agree to 0.01 mm in both directions', () => {
    const random = seededRandom(11);
    const at = topocentricAtGeocentric(origin, WGS84);
    const points = Array.from({ length: 1000 }, () =>
      geodeticToGeocentric(
        {
          latitudeDeg: random.between(50, 60),
          longitudeDeg: random.between(-5, 15),
          ellipsoidalHeightM: random.between(0, 3000),
        },
        WGS84,
      ),
    );
    const args = [
      '-d',
      '8',
      '+proj=topocentric',
      '+ellps=WGS84',
      `+X_0=${String(origin.xM)}`,
      `+Y_0=${String(origin.yM)}`,
      `+Z_0=${String(origin.zM)}`,
    ];
    const text = (list: readonly (readonly number[])[]): string =>
      `${list.map((p) => `${p.map((v) => v.toFixed(9)).join(' ')} 0`).join('\n')}\n`;
    const forward = runProgram('cct', args, text(points.map((p) => [p.xM, p.yM, p.zM]))).map(numbersOf);
    const worst = points.map((p, i) => {
      const local = at.fromGeocentric(p);
      const [e = NaN, n = NaN, u = NaN] = forward[i] ?? [];
      return Math.max(Math.abs(local.eastM - e), Math.abs(local.northM - n), Math.abs(local.upM - u));
    });
    expect(Math.max(...worst)).toBeLessThan(1e-5);
    const locals = points.map((p) => at.fromGeocentric(p));
    const inverse = runProgram('cct', ['-I', ...args], text(locals.map((l) => [l.eastM, l.northM, l.upM]))).map(
      (line) => geocentricOf(numbersOf(line)),
    );
    expect(Math.max(...locals.map((l, i) => apartM(at.toGeocentric(l), inverse[i] ?? origin)))).toBeLessThan(1e-5);
  });
});
