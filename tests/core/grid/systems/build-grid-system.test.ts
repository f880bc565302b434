import { describe, expect, it } from 'vitest';
import { emptyGridPairAndFactors } from '../../../../src/core/grid/factors/grid-factors.js';
import { gridProblem } from '../../../../src/core/grid/systems/grid-problem.js';
import { angleOf } from '../../../support/angle-of.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { buildOf, definitionOf, gridOf } from '../systems.js';
import { buildGridSystem } from '../../../../src/core/grid/systems/build-grid-system.js';

const METRES_PER_DEGREE = 111320;

describe('grid coordinates agree with published ones', () => {
  for (const row of readReferenceTable('projections')) {
    const latitudeDeg = angleOf(row.text('latitude_deg'));
    const longitudeDeg = angleOf(row.text('longitude_deg'));
    it(`${row.case}, forward`, () => {
      const out = { first: NaN, second: NaN };
      expect(gridOf(row.text('system')).forward(latitudeDeg, longitudeDeg, out)).toBe('ok');
      expect(Math.abs(out.first - row.number('first'))).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(out.second - row.number('second'))).toBeLessThanOrEqual(row.tolerance);
    });
    it(`${row.case}, back`, () => {
      const out = { latitudeDeg: NaN, longitudeDeg: NaN };
      expect(gridOf(row.text('system')).inverse(row.number('first'), row.number('second'), out)).toBe('ok');
      const toleranceDeg = (2 * row.tolerance) / METRES_PER_DEGREE;
      expect(Math.abs(out.latitudeDeg - latitudeDeg)).toBeLessThanOrEqual(toleranceDeg);
      expect(Math.abs(out.longitudeDeg - longitudeDeg) * Math.cos((latitudeDeg * Math.PI) / 180)).toBeLessThanOrEqual(
        toleranceDeg,
      );
    });
    it(`${row.case}, a hundred times round`, () => {
      const system = gridOf(row.text('system'));
      const pair = { first: row.number('first'), second: row.number('second') };
      const place = { latitudeDeg: 0, longitudeDeg: 0 };
      for (let i = 0; i < 100; i += 1) {
        expect(system.inverse(pair.first, pair.second, place)).toBe('ok');
        expect(system.forward(place.latitudeDeg, place.longitudeDeg, pair)).toBe('ok');
      }
      // With a flattening of 1/150, twice the Earth's, the sixth order leaves 0.01 micrometre each time.
      // Beyond the size of the Earth a hundred roundings of the number itself are more.
      const rounding = 1e-14 * Math.max(Math.abs(row.number('first')), Math.abs(row.number('second')));
      const limit = Math.max(rounding, row.text('system').includes('+rf=150') ? 2e-6 : 2e-7);
      expect(Math.abs(pair.first - row.number('first'))).toBeLessThan(limit);
      expect(Math.abs(pair.second - row.number('second'))).toBeLessThan(limit);
    });
  }
});

describe('axes and units are those of the system', () => {
  const columns = (text: string): readonly string[] => gridOf(text).axes.map((axis) => axis.columnName);
  it('names easting before northing in metres', () => {
    expect(columns('EPSG:32735')).toEqual(['easting_m', 'northing_m']);
  });
  it('names easting before northing where the registry lists northing first', () => {
    expect(columns('+proj=tmerc +lon_0=9 +ellps=GRS80 +axis=neu')).toEqual(['easting_m', 'northing_m']);
  });
  it('names westing and southing in a south-orientated system', () => {
    const system = gridOf('EPSG:2053');
    expect(columns('EPSG:2053')).toEqual(['westing_m', 'southing_m']);
    expect(system.axes.map((axis) => axis.abbreviation)).toEqual(['Y', 'X']);
    expect(system.southOrientated).toBe(true);
  });
  it('names westing before southing where the registry lists southing first', () => {
    expect(columns('EPSG:5513')).toEqual(['westing_m', 'southing_m']);
  });
  it('tells the feet apart', () => {
    expect(columns('EPSG:2230')).toEqual(['easting_us_survey_ft', 'northing_us_survey_ft']);
    expect(columns('EPSG:2222')).toEqual(['easting_international_ft', 'northing_international_ft']);
    expect(gridOf('EPSG:2230').axes[0].metresPerUnit).toBe(1200 / 3937);
    expect(gridOf('EPSG:2222').axes[0].metresPerUnit).toBe(0.3048);
  });
  it("names the registry's other units in snake case with their exact size", () => {
    expect(columns('EPSG:2136')).toEqual(['easting_gold_coast_foot', 'northing_gold_coast_foot']);
    expect(gridOf('EPSG:2136').axes[0].metresPerUnit).toBe(6378300 / 20926201);
  });
  it('gives zero, not negative zero, at the origin of a south-orientated system', () => {
    const out = { first: NaN, second: NaN };
    gridOf('EPSG:2053').forward(0, 29, out);
    expect(Object.is(out.first, 0) && Object.is(out.second, 0)).toBe(true);
  });
  it('takes the base from the registry text', () => {
    const { base } = gridOf('EPSG:2053');
    expect(base.code).toBe('EPSG:4148');
    expect(base.name).toBe('Hartebeesthoek94');
  });
  it('applies no shift of datum: the same projection with and without one written beside it', () => {
    const bare = '+proj=tmerc +lat_0=0 +lon_0=29 +ellps=WGS84';
    const a = { first: NaN, second: NaN };
    const b = { first: NaN, second: NaN };
    gridOf(bare).forward(-25, 28, a);
    const shifted = gridOf(`${bare} +towgs84=500,500,500,1,1,1,5`);
    shifted.forward(-25, 28, b);
    expect(b).toEqual(a);
    expect(shifted.base.datumShift).toEqual([500, 500, 500, 1, 1, 1, 5]);
  });
});

describe('places a projection does not hold are refused', () => {
  const out = emptyGridPairAndFactors();
  it('refuses latitude 95, which the library projects without a word (regression, 2026-11-25)', () => {
    const system = gridOf('EPSG:32631');
    expect(system.forward(95, 3, out)).toBe('latitude-out-of-range');
    expect(system.forwardWithFactors(95, 3, out)).toBe('latitude-out-of-range');
    expect(gridOf('EPSG:2154').forward(95, 3, out)).toBe('latitude-out-of-range');
  });
  it('refuses what is not a number, and leaves the record as it was', () => {
    const pair = { first: 1, second: 2 };
    expect(gridOf('EPSG:32631').forward(NaN, 3, pair)).toBe('latitude-out-of-range');
    expect(gridOf('EPSG:32631').forward(1, NaN, pair)).toBe('longitude-out-of-range');
    expect(gridOf('EPSG:32631').forward(1, 361, pair)).toBe('longitude-out-of-range');
    expect(pair).toEqual({ first: 1, second: 2 });
    const place = { latitudeDeg: 1, longitudeDeg: 2 };
    expect(gridOf('EPSG:32631').inverse(Infinity, 0, place)).toBe('coordinate-outside-domain');
    expect(place).toEqual({ latitudeDeg: 1, longitudeDeg: 2 });
  });
  it('refuses a transverse Mercator point 90 degrees from the central meridian', () => {
    expect(gridOf('EPSG:32631').forward(0, 93, out)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:32631').forward(10, -150, out)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:32631').forward(0, 60, out)).toBe('ok');
    expect(gridOf('EPSG:32631').forward(0, 64, out)).toBe('coordinate-outside-domain');
  });
  it('takes either pole in transverse Mercator', () => {
    const place = { latitudeDeg: 0, longitudeDeg: 0 };
    const system = gridOf('EPSG:32631');
    for (const latitudeDeg of [90, -90]) {
      expect(system.forward(latitudeDeg, 3, out)).toBe('ok');
      expect(system.inverse(out.first, out.second, place)).toBe('ok');
      expect(place.latitudeDeg).toBeCloseTo(latitudeDeg, 8);
    }
  });
  it('refuses grid values that belong to no place', () => {
    const place = { latitudeDeg: 0, longitudeDeg: 0 };
    expect(gridOf('EPSG:32631').inverse(5e7, 0, place)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:32631').inverse(500000, 3e7, place)).toBe('coordinate-outside-domain');
    expect(gridOf('EPSG:28992').inverse(1e12, 1e12, place)).toBe('coordinate-outside-domain');
  });
  it('says in words what is wrong, with the value and the area', () => {
    const problem = gridProblem(
      'coordinate-outside-domain',
      { latitudeDeg: 0, longitudeDeg: 93 },
      gridOf('EPSG:32631'),
    );
    expect(problem.message).toBe('latitude 0, longitude 93 is outside what WGS 84 / UTM zone 31N can represent');
    expect(problem.hint).toContain('0°E and 6°E');
  });
  it('takes longitudes of 0 to 360 as those of -180 to 180, across the 180th meridian too', () => {
    const a = { first: NaN, second: NaN };
    const b = { first: NaN, second: NaN };
    for (const system of [gridOf('EPSG:32760'), gridOf('EPSG:3832'), gridOf('EPSG:3460')]) {
      expect(system.forward(-17, -179.5, a)).toBe('ok');
      expect(system.forward(-17, 180.5, b)).toBe('ok');
      expect(a).toEqual(b);
    }
  });
});

describe('systems that cannot be computed are refused by name', () => {
  const refusal = (text: string): string => {
    const built = buildOf(text);
    return built.ok ? 'built' : `${built.problems[0]!.code}: ${built.problems[0]!.message}`;
  };
  it('without a PROJ string', () => {
    expect(refusal('EPSG:22700')).toBe(
      'system-unsupported: EPSG:22700 (Deir ez Zor / Levant Zone) has no definition that can be computed; its method is Lambert Conic Near-Conformal',
    );
    expect(refusal('EPSG:22300')).toContain('its method is Tunisia Mining Grid, method 9816');
  });
  it('with a projection or a parameter that is not computed', () => {
    expect(() => refusal('+proj=bonne +lat_1=40 +lon_0=0 +ellps=GRS80')).toThrow(
      'the projection bonne is not computed here',
    );
    expect(() => refusal('+proj=tmerc +hyperbolic +lon_0=0 +ellps=GRS80')).toThrow(
      '+hyperbolic is not a parameter of tmerc',
    );
    expect(() => refusal('+proj=col_urban +lat_0=4 +lon_0=-74 +ellps=GRS80')).toThrow(
      '+h_0 is missing; col_urban needs it',
    );
    expect(() => refusal('+proj=col_urban +lat_0=4 +lon_0=-74 +h_0=20000 +ellps=GRS80')).toThrow('up to 10000');
  });
  it('that are not projected, with the horizontal part of a compound one', () => {
    expect(refusal('EPSG:4326')).toBe(
      'system-mismatch: EPSG:4326 (WGS 84) is not a projected system; grid coordinates need one',
    );
    const compound = buildGridSystem(definitionOf('EPSG:7415'), null);
    expect(compound.ok ? '' : compound.problems[0]!.hint).toBe('its horizontal part is EPSG:28992');
  });
  it('on a base that cannot be computed', () => {
    const base = { ...definitionOf('EPSG:4148'), proj4: '+proj=longlat +ellps=none' };
    expect(buildGridSystem(definitionOf('EPSG:2053'), base).problems[0]!.message).toContain('+ellps=none is not known');
  });
  it('that are not projected and have no registry text', () => {
    const bare = buildGridSystem({ ...definitionOf('EPSG:7415'), wkt: null }, null);
    expect(bare.problems[0]!.code).toBe('system-mismatch');
    expect(bare.problems[0]!.hint).toBeUndefined();
  });
  it('with parameters that do not go together', () => {
    expect(refusal('+proj=lcc +lat_0=0 +lat_1=45 +lat_2=-45 +lon_0=0 +ellps=GRS80')).toContain(
      'the parameters of lcc do not go together',
    );
  });
});
