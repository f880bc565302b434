import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { NO_ELEMENTS, UNHEALTHY } from '../../../src/core/sky/orbit-track.js';
import type { OrbitTrack } from '../../../src/core/sky/orbit-track.js';
import type { SiteSky } from '../../../src/records/sky/site-sky.js';
import { startSky } from '../../../src/tasks/sky/run-sky.js';
import { sightsFrom } from '../../../src/tasks/sky/site-sky.js';
import { isAboveMasks, siteView } from '../../../src/tasks/sky/site-view.js';
import { sitesToDraw } from '../../../src/tasks/sky/sites-to-draw.js';
import { skyFindings } from '../../../src/tasks/sky/sky-findings.js';
import { MOST_INSTANTS } from '../../../src/tasks/sky/sky-setup.js';
import { skylinesByPoint } from '../../../src/tasks/sky/skylines-by-point.js';

const HOUR_MS = 3_600_000;

describe('sites that a page draws', () => {
  const site = (id: string, ...windows: readonly (readonly [boolean, number, number])[]): SiteSky =>
    ({
      site: { id },
      windows: windows.map(([isGood, fromMs, toMs]) => ({ isGood, fromMs, toMs })),
    }) as unknown as SiteSky;
  const idsOf = (skies: readonly SiteSky[]): readonly string[] => skies.map((sky) => sky.site.id);

  it('are those that are good for the shortest time, of equals in the order of the plan', () => {
    const skies = [
      site('whole', [true, 100, 200]),
      site('two halves', [true, 0, 30], [false, 30, 1000], [true, 1000, 1030]),
      site('never', [false, 0, 5000]),
      site('short', [true, 4000, 4010]),
      site('never either'),
    ];
    expect(idsOf(sitesToDraw(skies))).toEqual(['never', 'never either', 'short', 'two halves', 'whole']);
  });

  it('are twelve at most', () => {
    const skies = Array.from({ length: 14 }, (_, index) => site(String(index), [true, 0, 20 - index]));
    expect(idsOf(sitesToDraw(skies))).toEqual(['13', '12', '11', '10', '9', '8', '7', '6', '5', '4', '3', '2']);
  });
});

describe('what is said of elements', () => {
  const track = (satellite: string, change: Partial<OrbitTrack>): OrbitTrack => ({
    ...{ satellite, system: 'GPS', places: new Float64Array(3), states: Uint8Array.of(1), used: [] },
    ...{ oldestMs: { broadcast: null, almanac: null }, ...change },
  });
  const aged = (broadcast: number | null, almanac: number | null): readonly string[] =>
    skyFindings([track('G01', { oldestMs: { broadcast, almanac } })], []).warnings.map(({ message }) => message);

  it('begins a day after them for broadcast elements, and fourteen after for almanacs', () => {
    expect(aged(24 * HOUR_MS, null)).toEqual([]);
    expect(aged(24 * HOUR_MS + 1, null)).toEqual(['broadcast elements are used up to 24 h from their time']);
    expect(aged(30 * HOUR_MS, null)).toEqual(['broadcast elements are used up to 30 h from their time']);
    const dayMs = 24 * HOUR_MS;
    expect(aged(null, 14 * dayMs)).toEqual([]);
    expect(aged(null, 14 * dayMs + 1)).toEqual(['almanacs are used up to 14 days from their time']);
    expect(aged(null, 47 * dayMs)).toEqual(['almanacs are used up to 47 days from their time']);
    expect(aged(null, null)).toEqual([]);
  });

  it('gives the oldest of all satellites, in hours', () => {
    const tracks = [2, 5, 3].map((hours) =>
      track(`G0${String(hours)}`, { oldestMs: { broadcast: hours * HOUR_MS, almanac: 2 * hours * HOUR_MS } }),
    );
    expect(skyFindings(tracks, [])).toMatchObject({ broadcastHours: 5, almanacHours: 10, missing: [], unhealthy: [] });
  });

  it('names a dozen of those that are missing, and says where there are more', () => {
    const missing = (count: number): string | undefined =>
      skyFindings(
        Array.from({ length: count }, (_, index) =>
          track(`R${String(index + 1).padStart(2, '0')}`, { states: Uint8Array.of(1, NO_ELEMENTS) }),
        ),
        [],
      ).warnings[0]?.message;
    expect(missing(0)).toBeUndefined();
    expect(missing(1)).toMatch(/^of 1 satellites .* there: R01$/u);
    expect(missing(12)).toMatch(/: R01, .*R11, R12$/u);
    expect(missing(13)).toMatch(/R11, R12 and others$/u);
    expect(skyFindings([track('E05', { states: Uint8Array.of(UNHEALTHY, 1) })], []).unhealthy).toEqual(['E05']);
  });
});

describe('masks of a site', () => {
  const site = { id: 'S', latitudeDeg: 0, longitudeDeg: 0, ellipsoidalHeightM: 0, skyline: [] };
  /** East, north, up: a quarter of a turn from north, and so much above the horizon. */
  const eastAt = (elevationDeg: number): Float64Array => {
    const angle = (elevationDeg * Math.PI) / 180;
    return Float64Array.of(Math.cos(angle), 0, Math.sin(angle));
  };

  it('let pass what stands on them', () => {
    const open = siteView(site, 30, WGS84);
    expect(isAboveMasks(open, Float64Array.of(0, 0.8, open.leastUp), 0)).toBe(true);
    expect(isAboveMasks(open, eastAt(29.999), 0)).toBe(false);
    const walled = siteView({ ...site, skyline: [{ azimuthDeg: 90, elevationDeg: 0 }] }, -1, WGS84);
    expect(isAboveMasks(walled, eastAt(0), 0)).toBe(true);
    expect(isAboveMasks(walled, eastAt(-0.001), 0)).toBe(false);
  });

  it('turn with the declination of the compass that took them', () => {
    const rows = [
      { pointId: 'A', azimuthDeg: 10, elevationDeg: 5 },
      { pointId: 'B', azimuthDeg: 20, elevationDeg: 6 },
      { pointId: 'A', azimuthDeg: 30, elevationDeg: 7 },
    ];
    expect([...skylinesByPoint(rows, -3)]).toEqual([
      [
        'A',
        [
          { azimuthDeg: 7, elevationDeg: 5 },
          { azimuthDeg: 27, elevationDeg: 7 },
        ],
      ],
      ['B', [{ azimuthDeg: 17, elevationDeg: 6 }]],
    ]);
  });

  it('are told apart at both ends, instant by instant', () => {
    // Four Earth radii above the equator: one over the site, one a third of a turn on, which is below its horizon.
    const up = [4 * WGS84.semiMajorAxisM, 0, 0];
    const down = [0, 4 * WGS84.semiMajorAxisM, 0].map((value, axis) => (axis === 0 ? -1e7 : value));
    const track = (satellite: string, ...places: readonly (readonly number[])[]): OrbitTrack => ({
      ...{ satellite, system: 'GPS', places: Float64Array.from(places.flat()), states: Uint8Array.of(1, 1) },
      ...{ used: [], oldestMs: { broadcast: null, almanac: null } },
    });
    const shared = {
      tracks: [track('G01', up, up), track('G02', up, down)],
      instants: [1000, 2000],
      endMs: 3000,
      limits: { pdop: 4, satellites: 6 },
    };
    const view = siteView(site, 10, WGS84);
    const seen = (fromBase: Uint8Array | null): unknown =>
      sightsFrom(view, { ...shared, fromBase }).map((sight) => [
        sight.satellite,
        sight.utcMs,
        sight.isAboveSiteMask,
        sight.isAboveBaseMask,
      ]);
    expect(seen(null)).toEqual([
      ['G01', 1000, true, null],
      ['G01', 2000, true, null],
      ['G02', 1000, true, null],
    ]);
    expect(seen(Uint8Array.of(0, 1, 1, 0))).toEqual([
      ['G01', 1000, true, false],
      ['G01', 2000, true, true],
      ['G02', 1000, true, true],
    ]);
  });
});

it('ninety thousand instants are planned, and not one more', () => {
  const asked = (instants: number): string | undefined =>
    startSky({
      ...{ ellipsoid: WGS84, sites: [], base: null, elements: [], elevationMaskDeg: 10 },
      ...{ times: { fromMs: 1_709_769_600_000, toMs: 1_709_769_600_000 + 1000 * instants, intervalS: 1 } },
      limits: { pdop: 4, satellites: 6 },
    }).problems[0]?.code;
  expect(MOST_INSTANTS).toBe(90_000);
  expect(asked(90_000)).toBe('sky-no-elements');
  expect(asked(90_001)).toBe('usage-invalid');
});
