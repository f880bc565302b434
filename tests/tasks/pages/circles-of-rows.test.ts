import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import type { PlaceRow } from '../../../src/records/points/place-row.js';
import { aboutTheMiddle } from '../../../src/tasks/pages/about-the-middle.js';
import { circleOfSite, circleReader } from '../../../src/tasks/pages/circles-of-rows.js';
import type { SiteFigures } from '../../../src/tasks/site/apply-site.js';

const circle = (names: readonly string[], cells: readonly string[], decimalComma = false): number | null =>
  circleReader(names, decimalComma)({ passThrough: cells } as unknown as PlaceRow);
const SIGMAS = ['sigma_east_m', 'sigma_north_m', 'correlation_en'];

// Radii that hold 95 % of a bivariate normal: √(−2 ln 0.05) = 2.44775 of a circle; 1.95996 where one axis is nothing (FGDC-NSSDA).
describe('the 95 % circle of a row', () => {
  it.each<readonly [string, readonly string[], readonly string[], number | null]>([
    ['as it is written', ['circle_95_m'], ['0.031'], 0.031],
    ['nothing, where that is written', ['circle_95_m'], ['0'], 0],
    ['of like sigmas', SIGMAS, ['0.01', '0.01', '0'], 0.0244775],
    ['of like sigmas without a correlation', SIGMAS.slice(0, 2), ['0.01', '0.01'], 0.0244775],
    ['of like sigmas whose correlation is not written', SIGMAS, ['0.01', '0.01', ''], 0.0244775],
    ['of one axis alone', SIGMAS, ['0', '0.02', '0'], 0.0391993],
    // Fully correlated: all error along one line, of √2 sigma.
    ['of sigmas that go together', SIGMAS, ['0.01', '0.01', '1'], 0.0277181],
    ['of sigmas that go against each other', SIGMAS, ['0.01', '0.01', '-1'], 0.0277181],
    ['of sigmas, where a circle is missing', ['circle_95_m', ...SIGMAS], ['', '0.01', '0.01', '0'], 0.0244775],
    ['of sigmas, where a circle is none', ['circle_95_m', ...SIGMAS], ['-1', '0.01', '0.01', '0'], 0.0244775],
    ['as it is written, before sigmas', [...SIGMAS, 'Circle_95_M'], ['0.01', '0.01', '0', '0.5'], 0.5],
    ['not known, without a sigma', SIGMAS, ['0.01', '', '0'], null],
    ['not known, without the other', SIGMAS, ['', '0.01', '0'], null],
    ['not known, without a column of one', ['sigma_east_m'], ['0.01'], null],
    ['not known, without a column of the other', ['sigma_north_m'], ['0.01'], null],
    ['not known, where nothing is said', ['note'], ['x'], null],
  ])('is %s', (_, names, cells, expected) => {
    const found = circle(names, cells);
    if (expected === null) expect(found).toBeNull();
    else expect(found).toBeCloseTo(expected, 7);
  });

  it('is read with decimal commas where the table has them', () => {
    expect(circle(['circle_95_m'], ['0,5'], true)).toBe(0.5);
    expect(circle(['circle_95_m'], ['0,5'])).toBeNull();
  });

  it('of a site is that of its two axes', () => {
    expect(circleOfSite({ sigmaEastM: 0.01, sigmaNorthM: 0.01 } as SiteFigures)).toBeCloseTo(0.0244775, 7);
    expect(circleOfSite({ sigmaEastM: 0.02, sigmaNorthM: 0 } as SiteFigures)).toBeCloseTo(0.0391993, 7);
  });
});

describe('places about the middle of them all', () => {
  const at = (latitudeDeg: number, longitudeDeg: number): ReturnType<typeof geodeticToGeocentric> =>
    geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM: 0 }, WGS84);

  it('lie east and north of it in metres', () => {
    const around = [at(-31.001, 21), at(-30.999, 21), at(-31, 20.999), at(-31, 21.001)];
    const { middle, placeOf } = aboutTheMiddle(around, WGS84);
    expect(middle.latitudeDeg).toBeCloseTo(-31, 7);
    expect(middle.longitudeDeg).toBeCloseTo(21, 9);
    // A thousandth of a degree: 110.9 m of the meridian and 95.5 m of the parallel at 31°, from the radii 6,352 and 6,383.8 km.
    expect(placeOf(around[1] ?? middleOf())).toEqual({ first: near(0), second: near(110.86) });
    expect(placeOf(around[2] ?? middleOf())).toEqual({ first: near(-95.51), second: near(0) });
  });

  it('are of one place at the place itself', () => {
    const one = at(10, 20);
    expect(aboutTheMiddle([one], WGS84).placeOf(one)).toEqual({ first: near(0), second: near(0) });
  });
});

const near = (value: number): unknown => expect.closeTo(value, 1);
function middleOf(): never {
  throw new Error('no place');
}
