import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import { gridLevelFrom } from '../../../src/core/geoid/grid-level-from.js';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import { present } from '../../../src/records/present.js';
import type { Problem } from '../../../src/records/problem.js';
import type { BaseSettings } from '../../../src/records/session.js';
import { bothHeights, ellipsoidStation } from '../../../src/tasks/bases/ellipsoid-station.js';
import { prepareBases } from '../../../src/tasks/bases/prepare-bases.js';
import type { BaseSystems, PreparedBase } from '../../../src/tasks/bases/prepare-bases.js';
import { geoidStep } from '../../../src/tasks/transform/steps/geoid-step.js';
import { pointRow } from '../../support/check-setup.js';
import { valueOf } from '../../support/shift-of-row.js';

const close = (value: number, digits = 9): unknown => expect.closeTo(value, digits);
/** A geoid of 30 m between 9° and 11° east at 46° to 48°, with a hole in its north-east. */
const geoid = valueOf(
  createGeoidHeight(
    {
      name: 'flat.gtx',
      sha256: null,
      frame: null,
      precisionNote: null,
      levels: [
        valueOf(
          gridLevelFrom(
            { southDeg: 46, westDeg: 9, latitudeStepDeg: 1, longitudeStepDeg: 1, rows: 3, columns: 3 },
            Float64Array.of(30, 30, 30, 30, 30, 30, 30, 30, NaN),
          ),
        ),
      ],
    },
    'bilinear',
  ),
);
const utm = valueOf(loadGridSystem('EPSG:25832'));
const PLAIN: BaseSystems = { ellipsoid: WGS84, grid: null, geoid: null };
const HERE = { kind: 'geodetic', latitudeDeg: 47, longitudeDeg: 9, ellipsoidalHeightM: 500, at: 'arp' } as const;
const settings = (own: Partial<BaseSettings>): BaseSettings =>
  ({
    id: 'B1',
    broadcast: HERE,
    known: null,
    antennaHeight: null,
    sigmaHorizontalM: null,
    sigmaVerticalM: null,
    phaseCentreOffsetM: 0,
    fromMs: null,
    toMs: null,
    ...own,
  }) as unknown as BaseSettings;
const prepared = (own: Partial<BaseSettings>, systems = PLAIN): PreparedBase =>
  present(valueOf(prepareBases([settings(own)], systems))[0], 'the base');
const refused = (own: Partial<BaseSettings>, systems = PLAIN): Problem | undefined => {
  const found = prepareBases([settings({ id: 'B0' }), settings(own)], systems);
  return found.ok ? undefined : found.problems[0];
};

describe('where the antenna of a base is', () => {
  const vertical = { kind: 'vertical', heightM: 1.5 } as const;
  it.each([
    // What is given, the antenna over the mark, the phase centre over the reference point; the height of the reference point.
    ['at the reference point', 'arp', 0.1, 500, 498.5],
    ['at the mark', 'mark', 0.1, 501.5, 500],
    ['at the phase centre', 'apc', 0.1, 499.9, 498.4],
  ] as const)('is found from a coordinate %s', (_, at, phaseCentreOffsetM, arpM, markM) => {
    const base = prepared({ broadcast: { ...HERE, at }, antennaHeight: vertical, phaseCentreOffsetM });
    expect(base.arpGeodetic).toEqual({ latitudeDeg: 47, longitudeDeg: 9, ellipsoidalHeightM: close(arpM) });
    expect(base.origin).toEqual({
      at: 'mark',
      geodetic: { latitudeDeg: 47, longitudeDeg: 9, ellipsoidalHeightM: close(markM) },
    });
    expect(base.arp).toEqual(geodeticToGeocentric(base.arpGeodetic, WGS84));
    expect(base.correction).toBeNull();
  });

  it('is what baselines are measured from where no antenna height is known', () => {
    expect(prepared({})).toMatchObject({ origin: { at: 'arp', geodetic: { ellipsoidalHeightM: 500 } }, antenna: null });
    expect(refused({ broadcast: { ...HERE, at: 'mark' } })?.code).toBe('config-missing');
    expect(refused({ known: { ...HERE, at: 'mark' } })?.code).toBe('config-missing');
  });

  it('moves by what is known of it', () => {
    const { correction } = prepared({ known: { ...HERE, ellipsoidalHeightM: 500.25 } });
    expect(correction?.local).toEqual({ eastM: close(0, 6), northM: close(0, 6), upM: close(0.25, 6) });
    expect(correction?.magnitudeM).toBeCloseTo(0.25, 6);
  });
});

describe('the coordinate of a base', () => {
  // EPSG:25832 on its central meridian: easting 500 000 m; of X, Y, Z the definition.
  const grid = { kind: 'grid', values: { easting_m: 500_000, northing_m: 5_205_000 }, at: 'arp' } as const;
  const inGrid: BaseSystems = { ...PLAIN, grid: utm, geoid };
  const names = utm.axes.map(({ columnName }) => columnName);
  const values = (first: number, second: number): Record<string, number> => ({
    [names[0] ?? '']: first,
    [names[1] ?? '']: second,
  });

  it('may be in X, Y and Z, in a grid, and orthometric', () => {
    const xyz = geodeticToGeocentric(HERE, WGS84);
    expect(prepared({ broadcast: { kind: 'geocentric', ...xyz, at: 'arp' } }).arpGeodetic).toEqual({
      latitudeDeg: close(47),
      longitudeDeg: close(9),
      ellipsoidalHeightM: close(500, 6),
    });
    expect(
      prepared(
        {
          broadcast: {
            kind: 'geodetic-orthometric',
            latitudeDeg: 46.5,
            longitudeDeg: 9.5,
            orthometricHeightM: 470,
            at: 'arp',
          },
        },
        inGrid,
      ).arpGeodetic.ellipsoidalHeightM,
    ).toBeCloseTo(500, 9);
    for (const [height, ellipsoidalM] of [
      [{ kind: 'ellipsoidal', ellipsoidalHeightM: 480 }, 480],
      [{ kind: 'orthometric', orthometricHeightM: 470 }, 500],
    ] as const) {
      const { arpGeodetic } = prepared({ broadcast: { ...grid, values: values(500_000, 5_205_000), height } }, inGrid);
      expect(arpGeodetic.longitudeDeg).toBeCloseTo(9, 9);
      expect(arpGeodetic.ellipsoidalHeightM).toBeCloseTo(ellipsoidalM, 9);
    }
  });

  const ellipsoidal = { kind: 'ellipsoidal', ellipsoidalHeightM: 480 } as const;
  const orthometric = (latitudeDeg: number, longitudeDeg: number) =>
    ({ kind: 'geodetic-orthometric', latitudeDeg, longitudeDeg, orthometricHeightM: 470, at: 'arp' }) as const;
  it.each([
    [
      'grid values without a grid',
      { ...grid, height: ellipsoidal },
      { geoid },
      'config-missing',
      'no grid system is set',
    ],
    [
      'one grid value',
      { ...grid, values: { [names[0] ?? '']: 500_000 }, height: ellipsoidal },
      { grid: utm },
      'config-invalid-value',
      'the base gives',
    ],
    [
      'the other grid value',
      { ...grid, values: { [names[1] ?? '']: 500_000 }, height: ellipsoidal },
      { grid: utm },
      'config-invalid-value',
      'the base gives',
    ],
    [
      'three grid values',
      { ...grid, values: { ...values(500_000, 5_205_000), x: 1 }, height: ellipsoidal },
      { grid: utm },
      'config-invalid-value',
      'the base gives',
    ],
    [
      'a pair outside the map',
      { ...grid, values: values(9e9, 5_205_000), height: ellipsoidal },
      { grid: utm },
      'coordinate-outside-domain',
      '',
    ],
    ['an orthometric height without a geoid', orthometric(46.5, 9.5), {}, 'config-missing', 'no geoid is set'],
    ['a place outside the geoid', orthometric(45, 9.5), { geoid }, 'grid-outside', 'outside geoid grid flat.gtx'],
    [
      'a place without a node of the geoid',
      orthometric(47.5, 10.5),
      { geoid },
      'grid-nodata',
      'has no value at a node',
    ],
    ['a known coordinate of a SINEX file', HERE, {}, 'config-invalid-value', 'SINEX', { knownSinex: {} }],
    ['a known coordinate of another frame', HERE, {}, 'config-invalid-value', 'another frame', { knownIn: {} }],
    [
      'one of a day that is not there',
      HERE,
      {},
      'config-invalid-value',
      'that of P1 on mon',
      { knownFrom: { point: 'P1', day: 'mon' } },
    ],
  ] as const)('is refused as %s', (_, broadcast, systems, code, words, ...more) => {
    const problem = refused(
      { broadcast, ...(more[0] as Partial<BaseSettings> | undefined) },
      {
        ...PLAIN,
        ...systems,
      },
    );
    expect(problem?.message).toContain(words);
    expect(problem?.code).toBe(code);
    expect(problem?.where?.path).toBe('base[1] (B1)');
  });

  it('is doubted where only its exchanged numbers would lie in the grid', () => {
    const exchanged = { ...HERE, latitudeDeg: 9, longitudeDeg: 47 };
    expect(refused({ broadcast: exchanged }, inGrid)?.message).toMatch(/^broadcast: /u);
    expect(refused({ known: exchanged }, inGrid)?.message).toMatch(/^known: /u);
    expect(refused({ broadcast: { ...HERE, latitudeDeg: 20, longitudeDeg: 9.2 } }, inGrid)).toBeUndefined();
    expect(refused({ broadcast: exchanged })).toBeUndefined();
  });
});

describe('the heights of a point beside a geoid', () => {
  const heights = (
    own: readonly [number | null, number | null],
    at: readonly [number, number] = [46.5, 9.5],
    model: typeof geoid | null = geoid,
  ) => {
    const found = bothHeights(
      { ellipsoidalHeightM: own[0], orthometricHeightM: own[1] },
      { latitudeDeg: at[0], longitudeDeg: at[1] },
      model,
    );
    return found.ok ? [found.value.ellipsoidalHeightM, found.value.orthometricHeightM] : found.problems[0]?.code;
  };
  it('are filled in from one another, and left where both or none is known', () => {
    expect(heights([130, null])).toEqual([130, 100]);
    expect(heights([null, 100])).toEqual([130, 100]);
    expect(heights([130, 99])).toEqual([130, 99]);
    expect(heights([null, null], [0, 0])).toEqual([null, null]);
    expect(heights([1, 2], [0, 0])).toEqual([1, 2]);
    expect(heights([130, null], [46.5, 9.5], null)).toEqual([130, null]);
    expect(heights([130, null], [0, 0])).toBe('grid-outside');
    expect(heights([null, 100], [47.5, 10.5])).toBe('grid-nodata');
  });

  it('need a latitude and a longitude', () => {
    expect(ellipsoidStation(pointRow({ latitudeDeg: 46.5 }), geoid).problems[0]?.code).toBe('value-missing');
    expect(ellipsoidStation(pointRow({ longitudeDeg: 9.5 }), geoid).problems[0]?.code).toBe('value-missing');
    expect(
      valueOf(ellipsoidStation(pointRow({ latitudeDeg: 46.5, longitudeDeg: 9.5, ellipsoidalHeightM: 130 }), geoid)),
    ).toMatchObject({ pointId: 'P1', ellipsoidalHeightM: 130, orthometricHeightM: 100 });
  });
});

describe('the step of a geoid', () => {
  const { forward, inverse } = geoidStep(geoid, null);
  const point = (latitudeDeg: number, longitudeDeg: number, h: number | null, orthometricHeightM: number | null) =>
    ({
      latitudeDeg,
      longitudeDeg,
      ellipsoidalHeightM: h,
      orthometricHeightM,
      geoidHeightM: null,
    }) as never as Parameters<typeof forward.run>[0] & { readonly geoidHeightM: number | null };
  it('adds N forwards, takes it off backwards, and leaves a height that is not known', () => {
    const up = point(46.5, 9.5, null, 100);
    expect([forward.run(up), up.ellipsoidalHeightM, up.geoidHeightM]).toEqual([null, 130, 30]);
    const down = point(46.5, 9.5, 130, null);
    expect([inverse?.run(down), down.orthometricHeightM, down.geoidHeightM]).toEqual([null, 100, 30]);
    expect(forward.run(point(0, 0, 1, null))).toBeNull();
    expect(inverse?.run(point(0, 0, null, 1))).toBeNull();
  });
  it('says whether the place is outside or without data', () => {
    expect(forward.run(point(0, 0, null, 100))?.code).toBe('grid-outside');
    expect(forward.run(point(47.5, 10.5, null, 100))?.code).toBe('grid-nodata');
    expect(inverse?.run(point(0, 0, 100, null))?.code).toBe('grid-outside');
    expect(inverse?.run(point(47.5, 10.5, 100, null))?.code).toBe('grid-nodata');
  });
});
