import { describe, expect, it } from 'vitest';
import { buildGeographicSystem } from '../../../../src/core/grid/systems/build-geographic-system.js';
import { describeGridSystem } from '../../../../src/core/grid/systems/describe-grid-system.js';
import { geographicBaseCode, geographicBaseOf } from '../../../../src/core/grid/systems/geographic-base.js';
import type { GeographicSystem } from '../../../../src/core/grid/systems/geographic-system.js';
import { systemsAgree } from '../../../../src/core/grid/systems/systems-agree.js';
import { definitionOf, gridOf, valueOf } from '../systems.js';

const frame = (text: string): GeographicSystem => valueOf(buildGeographicSystem(definitionOf(text)));

describe('systemsAgree', () => {
  it('takes the two-dimensional, three-dimensional and geocentric systems of a datum for one', () => {
    for (const codes of [
      [4148, 4941, 4940],
      [4326, 4979, 4978],
      [4258, 4937, 4936],
      [4283, 4939, 4938],
    ]) {
      for (const a of codes)
        for (const b of codes) expect(systemsAgree(frame(`EPSG:${String(a)}`), frame(`EPSG:${String(b)}`))).toBe(true);
    }
  });
  it('tells apart two datums on one ellipsoid', () => {
    expect(systemsAgree(frame('EPSG:4148'), frame('EPSG:4326'))).toBe(false);
    expect(systemsAgree(frame('EPSG:4283'), frame('EPSG:7844'))).toBe(false);
  });
  it('tells apart two ellipsoids', () => {
    expect(systemsAgree(frame('EPSG:4222'), frame('EPSG:4148'))).toBe(false);
    expect(systemsAgree(frame('+proj=longlat +ellps=bessel'), frame('EPSG:4148'))).toBe(false);
  });
  it('lets a PROJ string agree with any system on its ellipsoid', () => {
    expect(systemsAgree(frame('+proj=longlat +ellps=WGS84'), frame('EPSG:4148'))).toBe(true);
    expect(systemsAgree(gridOf('+proj=tmerc +lon_0=29 +ellps=WGS84').base, frame('EPSG:4148'))).toBe(true);
  });
});

describe('geographicBaseCode and geographicBaseOf', () => {
  it('read the base from the registry text', () => {
    expect(geographicBaseCode(definitionOf('EPSG:2053'))).toBe('EPSG:4148');
    expect(geographicBaseCode(definitionOf('EPSG:28992'))).toBe('EPSG:4289');
    const base = valueOf(geographicBaseOf(definitionOf('EPSG:2053')));
    expect([base.code, base.name, base.ellipsoid.name]).toEqual(['EPSG:4148', 'Hartebeesthoek94', 'WGS 84']);
  });
  it("keep the base's ellipsoid where the projection uses a sphere", () => {
    const system = gridOf('EPSG:3857');
    expect(system.base.ellipsoid.flattening).toBeGreaterThan(0);
    expect(system.projection.ellipsoid.flattening).toBe(0);
    expect(system.projection.conformal).toBe(false);
  });
  it('give a geographic definition itself, and pass on what cannot be read', () => {
    expect(valueOf(geographicBaseOf(definitionOf('EPSG:4148'))).code).toBe('EPSG:4148');
    const unreadable = { ...definitionOf('EPSG:2053'), proj4: '+proj=tmerc +lon_0=29 +ellps=none' };
    expect(geographicBaseOf(unreadable).problems[0]?.code).toBe('system-definition-invalid');
  });
  it('have no code where the registry text has none or cannot be read', () => {
    const definition = definitionOf('EPSG:2053');
    for (const wkt of ['', 'GEOGCS["cut off"', 'PROJCS["a",GEOGCS["b",DATUM["c",SPHEROID["d",6378137,298.25]]]]']) {
      expect(geographicBaseCode({ ...definition, wkt })).toBeNull();
    }
  });
  it('name the base after the grid where there is no registry text', () => {
    const definition = definitionOf('EPSG:8857');
    expect(geographicBaseCode(definition)).toBeNull();
    expect(valueOf(geographicBaseOf(definition)).name).toBe('WGS 84');
  });
});

describe('buildGeographicSystem', () => {
  const refusal = (text: string): string => {
    const built = buildGeographicSystem(definitionOf(text));
    return built.ok ? 'built' : `${built.problems[0]!.code}: ${built.problems[0]!.message}`;
  };
  it('refuses projected and vertical systems, and other prime meridians', () => {
    expect(refusal('EPSG:2053')).toContain(
      'system-mismatch: EPSG:2053 (Hartebeesthoek94 / Lo29) is a projected system',
    );
    expect(refusal('EPSG:5773')).toContain('system-unsupported');
    expect(refusal('EPSG:4807')).toContain('counts its longitudes from paris');
  });
  it('refuses angles in grads from Greenwich, and a definition that cannot be read', () => {
    const definition = definitionOf('EPSG:4148');
    const grads = buildGeographicSystem({ ...definition, unitName: 'grad' });
    expect(grads.problems[0]?.message).toContain('counts its longitudes from Greenwich in grads');
    expect(buildGeographicSystem({ ...definition, proj4: '+proj=longlat +ellps=none' }).problems[0]?.code).toBe(
      'system-definition-invalid',
    );
    expect(buildGeographicSystem({ ...definition, code: null, kind: 'other' }).problems[0]?.message).toContain(
      'Hartebeesthoek94 is not a geographic',
    );
  });
  it('names the ellipsoid as the PROJ string does where there is no registry text', () => {
    const definition = definitionOf('EPSG:4148');
    const bare = valueOf(buildGeographicSystem({ ...definition, wkt: null }));
    expect(bare.ellipsoid.name).toBe('WGS 84');
    expect(bare.name).toBe('Hartebeesthoek94');
  });
  it('keeps a datum shift for information', () => {
    expect(frame('+proj=longlat +ellps=bessel +towgs84=1,2,3').datumShift).toEqual([1, 2, 3]);
  });
});

describe('describeGridSystem', () => {
  it('lists method, parameters, base, axes and area', () => {
    const found = describeGridSystem(gridOf('EPSG:2053'));
    expect(found.method).toBe('Transverse Mercator (south orientated)');
    expect([found.baseCode, found.baseName, found.ellipsoidName, found.inverseFlattening]).toEqual([
      'EPSG:4148',
      'Hartebeesthoek94',
      'WGS 84',
      298.257223563,
    ]);
    expect(found.parameters.find((p) => p.name === 'longitude of origin')).toEqual({
      name: 'longitude of origin',
      value: 29,
      unit: 'deg',
    });
    expect(found.areaOfUse?.description).toContain('South Africa');
  });
  it('writes out what a zone of the universal grid stands for', () => {
    const found = describeGridSystem(gridOf('EPSG:32735'));
    expect(Object.fromEntries(found.parameters.map((p) => [p.name, p.value]))).toEqual({
      'latitude of origin': 0,
      'longitude of origin': 27,
      'scale factor at origin': 0.9996,
      'false easting': 500000,
      'false northing': 10000000,
    });
  });

  it('has no flattening to tell of a sphere', () => {
    const found = describeGridSystem(gridOf('+proj=tmerc +lon_0=29 +R=6371000'));
    expect(found.inverseFlattening).toBeNull();
    expect(found.semiMajorAxisM).toBe(6371000);
  });
});
