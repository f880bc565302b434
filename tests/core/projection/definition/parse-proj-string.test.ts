import { describe, expect, it } from 'vitest';
import { parseProjString } from '../../../../src/core/projection/definition/parse-proj-string.js';
import { nearestName } from '../../../../src/core/projection/definition/nearest-name.js';
import { valueOf } from '../../grid/systems.js';

function complaints(text: string): readonly string[] {
  const parsed = parseProjString(text);
  return parsed.ok
    ? []
    : parsed.problems.map((p) => `${p.code}: ${p.message}${p.hint === undefined ? '' : ` (${p.hint})`}`);
}
const TM = '+proj=tmerc +lon_0=29 +ellps=WGS84';

describe('parseProjString', () => {
  it('reads the parameters of a south-orientated grid', () => {
    const found = valueOf(
      parseProjString(
        '+proj=tmerc +axis=wsu +lat_0=0 +lon_0=29 +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +towgs84=0,0,0 +units=m +no_defs +type=crs',
      ),
    );
    expect(found.numbers).toEqual({ lat_0: 0, lon_0: 29, k_0: 1, x_0: 0, y_0: 0 });
    expect([found.axes, found.unit.columnSuffix, found.primeMeridian]).toEqual(['wsu', 'm', null]);
    expect(found.datumShift).toEqual([0, 0, 0]);
  });
  it('refuses a misspelt parameter, which the library would ignore, and says the nearest (regression, 2026-11-25)', () => {
    expect(complaints('+proj=tmerc +lonn_0=-81 +lat0=0 +ellps=GRS80')).toEqual([
      'system-definition-invalid: +lonn_0 is not a parameter of tmerc (did you mean +lon_0?)',
      'system-definition-invalid: +lat0 is not a parameter of tmerc (did you mean +lat_0?)',
      'system-definition-invalid: +lon_0 is missing; tmerc needs it',
    ]);
  });
  it('refuses a parameter of another projection', () => {
    expect(complaints(`${TM} +lat_1=40`)[0]).toContain('+lat_1 is not a parameter of tmerc');
  });
  it('refuses a parameter given twice, k and k_0 among them', () => {
    expect(complaints(`${TM} +lon_0=27`)).toEqual(['system-definition-invalid: +lon_0 is given twice']);
    expect(complaints(`${TM} +k=1 +k_0=1`)).toEqual(['system-definition-invalid: +k_0 is given twice']);
  });
  it('refuses words that are not parameters', () => {
    expect(complaints(`${TM} lat_0=0`)[0]).toContain('"lat_0=0" is not of the form');
    expect(complaints(`${TM} +lat_0=`)[0]).toContain('is not of the form');
  });
  it('refuses values that are not numbers, or outside their range', () => {
    for (const bad of ['+lat_0=95', '+lat_0=1e', '+lat_0=0x10', '+k=0', '+k=-1', '+x_0=inf']) {
      expect(complaints(`${TM} ${bad}`)).toHaveLength(1);
    }
    expect(complaints('+proj=utm +zone=61 +ellps=WGS84')[0]).toContain('a whole number, 1 to 60');
    expect(complaints('+proj=utm +zone=31.5 +ellps=WGS84')).toHaveLength(1);
  });
  it('refuses a value where none belongs, and none where one does', () => {
    expect(complaints('+proj=utm +zone=31 +south=1 +ellps=WGS84')).toEqual([
      'system-definition-invalid: +south takes no value',
    ]);
    expect(complaints(`${TM} +lat_0`)).toEqual(['system-definition-invalid: +lat_0 needs a value']);
  });
  it('has no default ellipsoid', () => {
    expect(complaints('+proj=tmerc +lon_0=29')[0]).toContain('the ellipsoid is not given');
    expect(complaints('+proj=tmerc +lon_0=29 +ellps=WGS94')[0]).toContain('did you mean WGS84?');
    expect(complaints('+proj=tmerc +lon_0=29 +ellps=WGS84 +a=6378137')[0]).toContain(
      'cannot be read from +ellps=WGS84 +a=6378137',
    );
    expect(complaints('+proj=tmerc +lon_0=29 +datum=potsdam')[0]).toContain('+datum=potsdam is not known');
  });
  it('reads a sphere of no size and half-given figures as no ellipsoid', () => {
    for (const figures of [
      '+R=0',
      '+R=big',
      '+a=6378137',
      '+a=6378137 +rf=1',
      '+a=6378137 +b=7000000',
      '+a=6378137 +f=1',
      '+a=6378137 +rf=x',
      '+a=9e99 +rf=300',
    ]) {
      expect(complaints(`+proj=tmerc +lon_0=29 ${figures}`), figures).toEqual([
        `system-definition-invalid: the ellipsoid cannot be read from ${figures}`,
      ]);
    }
    expect(complaints('+proj=tmerc +lon_0=29 +R')).toEqual([
      'system-definition-invalid: +R needs a value',
      'system-definition-invalid: the ellipsoid cannot be read from +R=',
    ]);
  });
  it('refuses what names no projection', () => {
    for (const text of ['', '   ', '+lon_0=29 +ellps=WGS84', '+proj +lon_0=29'])
      expect(complaints(text), text).toEqual(['system-definition-invalid: +proj is missing']);
  });
  it('says which kind of number each parameter is', () => {
    expect(complaints(`${TM} +x_0=far`)).toEqual(['system-definition-invalid: +x_0=far is not a length in metres']);
    expect(complaints(`${TM} +y_0=2e9`)).toEqual(['system-definition-invalid: +y_0=2e9 is not a length in metres']);
    expect(complaints(`${TM} +k=0`)).toEqual([
      'system-definition-invalid: +k_0=0 is not a scale factor between 0.1 and 10',
    ]);
    expect(complaints('+proj=utm +zone=61 +ellps=WGS84')).toEqual([
      'system-definition-invalid: +zone=61 is not a whole number, 1 to 60',
    ]);
    expect(complaints('+proj=tmerc +lon_0=400 +ellps=WGS84')).toEqual([
      'system-definition-invalid: +lon_0=400 is not an angle in degrees, -360 to 360',
    ]);
    expect(complaints(`${TM} +lat_0=91`)).toEqual([
      'system-definition-invalid: +lat_0=91 is not a latitude in degrees, -90 to 90',
    ]);
  });
  it('refuses a unit whose size is no number or belongs to none, and a shift that is not all numbers', () => {
    expect(complaints(`${TM} +to_meter=one`)).toEqual(['system-unsupported: no unit is known of one metres']);
    expect(complaints(`${TM} +to_meter=0.31`)).toEqual(['system-unsupported: no unit is known of 0.31 metres']);
    for (const shift of ['1,x,3', '1,2', '1,2,3,4,5,6,seven']) {
      expect(complaints(`${TM} +towgs84=${shift}`)).toEqual([
        'system-definition-invalid: +towgs84 must be 3 or 7 numbers with commas',
      ]);
    }
  });
  it('reads an ellipsoid by its figures', () => {
    const of = (text: string): number => valueOf(parseProjString(`+proj=tmerc +lon_0=29 ${text}`)).ellipsoid.flattening;
    expect(of('+a=6378137 +rf=298.257223563')).toBe(1 / 298.257223563);
    expect(of('+a=6378206.4 +b=6356583.8')).toBeCloseTo(1 / 294.978698213898, 15);
    expect(of('+a=6378137 +f=0.0033')).toBeCloseTo(0.0033, 15);
    expect(of('+R=6371000')).toBe(0);
  });
  it('refuses projections, units and axes it cannot honour', () => {
    expect(complaints('+proj=tmercc +lon_0=29 +ellps=WGS84')).toEqual([
      'system-unsupported: the projection tmercc is not computed here (did you mean tmerc?)',
    ]);
    expect(complaints(`${TM} +axis=esu`)[0]).toContain('system-unsupported: the axes esu');
    expect(complaints(`${TM} +to_meter=0.3`)[0]).toContain('no unit is known of 0.3 metres');
    expect(complaints(`${TM} +units=furlong`)[0]).toContain('the unit furlong is not known');
    expect(complaints(`${TM} +units=m +to_meter=1`)[0]).toContain('exclude each other');
  });
  it("refuses a geoid inside a definition: heights are not the projection's", () => {
    expect(complaints(`${TM} +geoidgrids=egm96_15.gtx`)[0]).toContain('+geoidgrids is not a parameter of tmerc');
  });
  it('reads a quoted file name with spaces', () => {
    expect(complaints(`${TM} +nadgrids="National 84 (02.07.01).gsb"`)).toEqual([]);
  });
  it('keeps a prime meridian, and takes Greenwich for none', () => {
    expect(valueOf(parseProjString(`${TM} +pm=paris`)).primeMeridian).toBe('paris');
    expect(valueOf(parseProjString(`${TM} +pm=0`)).primeMeridian).toBeNull();
    expect(valueOf(parseProjString(`${TM} +pm=greenwich`)).primeMeridian).toBeNull();
  });
});

describe('nearestName', () => {
  it('finds the name one slip away, and none where all are far', () => {
    expect(nearestName('lonn_0', ['lat_0', 'lon_0'])).toBe('lon_0');
    expect(nearestName('zzzzzz', ['lat_0', 'lon_0'])).toBeNull();
  });
});

describe('a string that contradicts itself is refused', () => {
  it.each([
    ['+proj=stere +lat_0=90 +lat_ts=-70 +lon_0=0 +ellps=WGS84', 'about the other pole'],
    ['+proj=stere +lat_0=-90 +lat_ts=70 +lon_0=0 +ellps=WGS84', 'about the other pole'],
    ['+proj=stere +lat_0=45 +lat_ts=70 +lon_0=0 +ellps=WGS84', 'is not one'],
    ['+proj=stere +lat_0=90 +lat_ts=70 +k_0=0.994 +lon_0=0 +ellps=WGS84', 'both state the scale'],
    ['+proj=merc +lat_ts=41 +k=0.99 +lon_0=0 +ellps=WGS84', 'both state the scale'],
    ['+proj=merc +lat_ts=90 +lon_0=0 +ellps=WGS84', 'is a pole'],
  ])('%s', (text, words) => {
    const parsed = parseProjString(text);
    expect(parsed.ok ? '' : parsed.problems[0]?.code).toBe('system-definition-invalid');
    expect(parsed.ok ? '' : parsed.problems[0]?.message).toContain(words);
  });
  it('and one that says the same twice is not', () => {
    expect(parseProjString('+proj=stere +lat_0=90 +lat_ts=70 +k=1 +lon_0=-45 +ellps=WGS84').ok).toBe(true);
  });
});
