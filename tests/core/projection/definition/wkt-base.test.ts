import { describe, expect, it } from 'vitest';
import { wktBase } from '../../../../src/core/projection/definition/wkt-base.js';

const BASE = 'GEOGCS["Invented",DATUM["D",SPHEROID["Bessel 1841",6377397.155,299.1528128]],AUTHORITY["EPSG","9"]]';

describe('wktBase', () => {
  it('reads name, code and spheroid of the geographic part, whatever surrounds it', () => {
    for (const wkt of [
      BASE,
      `PROJCS["Grid",${BASE},PROJECTION["Mercator"]]`,
      `COMPD_CS["a",PROJCS["b",${BASE}],VERT_CS["c"]]`,
    ]) {
      const found = wktBase(wkt);
      expect([found?.name, found?.code, found?.ellipsoid.name, found?.ellipsoid.semiMajorAxisM]).toEqual([
        'Invented',
        'EPSG:9',
        'Bessel 1841',
        6377397.155,
      ]);
    }
  });

  it('has no code where the part states none, or is cut off before it', () => {
    expect(wktBase(BASE.replace(',AUTHORITY["EPSG","9"]', ''))?.code).toBeNull();
    expect(wktBase(BASE.slice(0, -1))?.code).toBeNull();
  });

  it('is none without a geographic part, a spheroid, or figures that are numbers', () => {
    expect(wktBase('VERT_CS["height"]')).toBeNull();
    expect(wktBase('GEOGCS["Invented",DATUM["D"]]')).toBeNull();
    expect(wktBase(BASE.replace('6377397.155', '6.3.7'))).toBeNull();
    expect(wktBase(BASE.replace('299.1528128', '2.9.9'))).toBeNull();
  });
});
