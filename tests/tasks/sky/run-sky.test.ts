import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic } from '../../../src/core/ellipsoid/geocentric.js';
import { orbitTrack } from '../../../src/core/sky/orbit-track.js';
import { readNavigation } from '../../../src/io/navigation/navigation-read.js';
import { entryAt, present } from '../../../src/records/present.js';
import type { OrbitElements } from '../../../src/records/sky/orbit-elements.js';
import type { SiteSky, SkySight, SkySite } from '../../../src/records/sky/site-sky.js';
import { startSky } from '../../../src/tasks/sky/run-sky.js';
import type { SkyRun } from '../../../src/tasks/sky/run-sky.js';
import type { SkySetup } from '../../../src/tasks/sky/sky-setup.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { textOf } from '../../support/repository-files.js';

function elementsIn(path: string): readonly OrbitElements[] {
  const read = readNavigation(textOf(path), Date.parse('2025-08-02T00:00:00Z'));
  if (!read.ok) throw new Error(read.problems[0]?.message);
  return read.value.elements;
}

const REAL = elementsIn('tests/fixtures/navigation/gps-2024-067.rnx');
const WHOLE = elementsIn('examples/quillback-pan-sky/navigation.rnx');
const SITE: SkySite = { id: 'S', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000, skyline: [] };
const LIMITS = { pdop: 4, satellites: 6 };

function started(change: Partial<SkySetup>): SkyRun {
  const times = {
    fromMs: Date.parse('2025-08-02T06:00:00Z'),
    toMs: Date.parse('2025-08-02T10:00:00Z'),
    intervalS: 600,
  };
  const setup = {
    ellipsoid: WGS84,
    sites: [SITE],
    base: null,
    elements: WHOLE,
    times,
    elevationMaskDeg: 10,
    limits: LIMITS,
  };
  const run = startSky({ ...setup, ...change });
  if (!run.ok) throw new Error(run.problems[0]?.message);
  return run.value;
}

const skies = (change: Partial<SkySetup>): readonly SiteSky[] => [...started(change).sites()];
const first = (change: Partial<SkySetup>): SiteSky => entryAt(skies(change), 0);

describe('a real station', () => {
  const rows = readReferenceTable('sky-station').filter((row) => row.text('file') === 'gps-2024-067.rnx');
  const epochs = [...new Set(rows.map((row) => row.text('epoch_gps')))];
  const [x = 0, y = 0, z = 0] = entryAt(rows, 0).numbers('xyz_m');
  const place = geocentricToGeodetic({ xM: x, yM: y, zM: z }, WGS84);
  const station: SkySite = { ...place, id: 'station', skyline: [] };
  const at = (epoch: string, elevationMaskDeg: number): SkyRun => {
    // GPS time is 18 s ahead of UTC.
    const fromMs = Date.parse(`${epoch}Z`) - 18_000;
    return started({
      sites: [station],
      elements: REAL,
      times: { fromMs, toMs: fromMs + 1, intervalS: 1 },
      elevationMaskDeg,
    });
  };

  it.each(epochs)('sees above its horizon at %s exactly the eleven satellites that its receiver tracked', (epoch) => {
    const tracked = ['G03', 'G04', 'G06', 'G07', 'G09', 'G11', 'G16', 'G20', 'G26', 'G29', 'G30'];
    const sights = at(epoch, 0).sightsFrom(station);
    expect(sights.map(({ satellite }) => satellite)).toEqual(tracked);
    const own = rows.filter((row) => row.text('epoch_gps') === epoch);
    expect(own.map((row) => row.text('satellite'))).toEqual(tracked);
    for (const [index, row] of own.entries()) {
      const sight: SkySight = entryAt(sights, index);
      expect(Math.abs(sight.azimuthDeg - row.number('azimuth_deg')), row.case).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(sight.elevationDeg - row.number('elevation_deg')), row.case).toBeLessThanOrEqual(row.tolerance);
    }
  });

  for (const row of readReferenceTable('sky-dop').filter((one) => one.text('file') !== ''))
    it(`has the dilution of ${row.case}`, () => {
      const run = at(row.text('epoch_gps'), row.number('mask_deg'));
      const epoch = entryAt(entryAt([...run.sites()], 0).epochs, 0);
      expect(epoch.satellites).toBe(Number(/(\d+) satellites/u.exec(row.case)?.[1]));
      const found = present(epoch.dilution, 'the dilution of a real sky');
      for (const name of ['hdop', 'vdop', 'pdop', 'tdop', 'gdop'] as const)
        expect(Math.abs(found[name] - row.number(name)), name).toBeLessThanOrEqual(row.tolerance);
    });
});

describe('a rover elsewhere, whose navigation file is of RINEX 2', () => {
  const elements = elementsIn('tests/fixtures/navigation/gps-2018-173.18n');
  const rows = readReferenceTable('sky-station').filter((row) => row.text('file') === 'gps-2018-173.18n');
  const [x = 0, y = 0, z = 0] = entryAt(rows, 0).numbers('xyz_m');
  const station: SkySite = { ...geocentricToGeodetic({ xM: x, yM: y, zM: z }, WGS84), id: 'rover', skyline: [] };
  const gpsMs = Date.parse(`${entryAt(rows, 0).text('epoch_gps')}Z`);
  const fromMs = gpsMs - 18_000;

  it('tracked none that is not predicted, and each stands where another program puts it', () => {
    const run = started({
      sites: [station],
      elements,
      times: { fromMs, toMs: fromMs + 1, intervalS: 1 },
      elevationMaskDeg: 10,
    });
    const sights = run.sightsFrom(station);
    expect(sights.map(({ satellite }) => satellite)).toEqual(['G03', 'G07', 'G08', 'G09', 'G16', 'G23', 'G30']);
    for (const [index, row] of rows.entries()) {
      const sight = entryAt(sights, index);
      expect(sight.satellite).toBe(row.text('satellite'));
      expect(Math.abs(sight.azimuthDeg - row.number('azimuth_deg')), row.case).toBeLessThanOrEqual(row.tolerance);
      expect(Math.abs(sight.elevationDeg - row.number('elevation_deg')), row.case).toBeLessThanOrEqual(row.tolerance);
    }
  });

  it('measured ranges that fit the predicted places to ten metres', () => {
    const [light, turn] = [299_792_458, 7.2921151467e-5];
    const ranges = readReferenceTable('sky-ranges');
    const left = ranges.map((row) => {
      const seconds = row.number('range_m') / light;
      const own = present(
        elements.find(({ satellite }) => satellite === row.text('satellite')),
        'elements',
      );
      const sentMs = gpsMs - 1000 * seconds;
      const [px, py, pz] = orbitTrack([own], [sentMs]).places as unknown as [number, number, number];
      // While the signal comes down the Earth turns; the clock of the satellite is wrong by what its message says.
      const angle = turn * seconds;
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      const away = Math.hypot(px * cos + py * sin - x, py * cos - px * sin - y, pz - z);
      const clock = row.number('clock_s') + (row.number('clock_rate') * (sentMs - own.referenceMs)) / 1000;
      return row.number('range_m') + light * clock - away;
    });
    // What all have in common is the receiver's clock.
    const middle = [...left].sort((a, b) => a - b)[Math.floor(left.length / 2)]!;
    for (const [index, row] of ranges.entries())
      expect(Math.abs(entryAt(left, index) - middle), row.case).toBeLessThanOrEqual(row.tolerance);
  });
});

// Two consecutive records are two fits of one orbit: half-way they agree to metres, whatever the system. Of all 1,576 such pairs of the whole file
// the farthest were 3.4 m (GPS), 1.7 m (Galileo), 4.8 m (BeiDou) and 3.5 m (GLONASS) apart (an independent program).
describe('two consecutive records of a satellite', () => {
  const pairs = elementsIn('tests/fixtures/navigation/pairs-2025-214.rnx');
  const names = [...new Set(pairs.map(({ satellite }) => satellite))];

  it.each(names)('put %s within five metres of each other half-way between them', (name) => {
    const [before, after] = pairs.filter(({ satellite }) => satellite === name);
    if (before === undefined || after === undefined) throw new Error('there is no pair');
    const middle = (before.referenceMs + after.referenceMs) / 2;
    const [one, other] = [orbitTrack([before], [middle]).places, orbitTrack([after], [middle]).places];
    const apart = Math.sqrt([0, 1, 2].reduce((sum, axis) => sum + (entryAt(one, axis) - entryAt(other, axis)) ** 2, 0));
    expect(apart).toBeGreaterThan(0);
    expect(apart).toBeLessThan(5);
  });

  it('are of every system and of geostationary satellites', () => {
    expect([...new Set(names.map((name) => name.slice(0, 1)))].sort()).toEqual(['C', 'E', 'G', 'R']);
    expect(names).toEqual(expect.arrayContaining(['C02', 'C60']));
  });
});

describe('a sky', () => {
  it('counts a satellite only where both ends see it', () => {
    const wall = [300, 359.9, 60].map((azimuthDeg) => ({ azimuthDeg, elevationDeg: 70 }));
    const hidden: SkySite = {
      ...SITE,
      id: 'B',
      skyline: [...wall, { azimuthDeg: 61, elevationDeg: 0 }, { azimuthDeg: 299, elevationDeg: 0 }],
    };
    const [alone, both] = [first({}), first({ base: hidden })];
    for (const [index, epoch] of both.epochs.entries()) {
      const open = entryAt(alone.epochs, index);
      expect(epoch.satellitesAtSite).toBe(open.satellites);
      expect(epoch.satellites).toBe(epoch.satellitesAtBase);
      expect(epoch.satellites).toBeLessThan(open.satellites);
      expect(epoch.bySystem.reduce((sum, count) => sum + count, 0)).toBe(epoch.satellites);
    }
  });

  it('is the same seen from the other end, but for dilution', () => {
    const far: SkySite = { ...SITE, id: 'F', latitudeDeg: -31.9, skyline: [{ azimuthDeg: 0, elevationDeg: 25 }] };
    const [there, back] = [first({ base: far }), first({ sites: [far], base: SITE })];
    expect(there.epochs.map(({ satellites }) => satellites)).toEqual(back.epochs.map(({ satellites }) => satellites));
  });

  it('does not change with the order of the elements', () => {
    expect(first({ elements: WHOLE.toReversed() })).toEqual(first({}));
  });

  it('loses satellites and gains dilution as the mask rises', () => {
    const masks = [0, 10, 20, 30].map((elevationMaskDeg) => first({ elevationMaskDeg }));
    for (const [index, higher] of masks.slice(1).entries())
      for (const [at, epoch] of higher.epochs.entries()) {
        const lower = entryAt(entryAt(masks, index).epochs, at);
        expect(epoch.satellites).toBeLessThanOrEqual(lower.satellites);
        expect(epoch.dilution?.pdop).toBeGreaterThanOrEqual(
          present(lower.dilution, 'a sky of all systems').pdop - 1e-12,
        );
      }
  });

  it('says what it was made from: satellites, ages and what is missing', () => {
    const { findings, tracks, repeatS } = started({});
    expect(tracks).toHaveLength(114);
    expect(findings).toMatchObject({ unhealthy: [], missing: [], almanacHours: null, warnings: [] });
    expect(present(findings.broadcastHours, 'an age')).toBeLessThan(12);
    expect(repeatS).toBeCloseTo(-246, 0);
  });

  it('warns of elements more than a day old, and leaves out what is too old to be carried on', () => {
    const times = {
      fromMs: Date.parse('2025-08-07T06:00:00Z'),
      toMs: Date.parse('2025-08-07T07:00:00Z'),
      intervalS: 600,
    };
    const { findings, tracks } = started({ times });
    expect(findings.warnings.map(({ code }) => code)).toEqual(['sky-elements-old', 'sky-elements-missing']);
    expect(findings.missing).toEqual(
      tracks.filter(({ system }) => system === 'GLONASS').map(({ satellite }) => satellite),
    );
  });

  it('is refused where no elements are near, with how far the nearest are', () => {
    const times = {
      fromMs: Date.parse('2026-08-07T06:00:00Z'),
      toMs: Date.parse('2026-08-07T07:00:00Z'),
      intervalS: 600,
    };
    const setup = {
      ellipsoid: WGS84,
      sites: [SITE],
      base: null,
      elements: WHOLE,
      times,
      elevationMaskDeg: 10,
      limits: LIMITS,
    };
    const run = startSky(setup);
    expect(run.ok).toBe(false);
    expect(run.problems[0]?.code).toBe('sky-no-elements');
    expect(run.problems[0]?.message).toContain('370 days');
  });

  it('leaves an unhealthy satellite out and names it', () => {
    const ill = WHOLE.map((one) => (one.satellite === 'G02' ? { ...one, isHealthy: false } : one));
    const run = started({ elements: ill });
    expect(run.findings.unhealthy).toEqual(['G02']);
    expect(run.sightsFrom(SITE).some(({ satellite }) => satellite === 'G02')).toBe(false);
  });

  it('answers with the worst site', () => {
    const closed: SkySite = { ...SITE, id: 'closed', skyline: [{ azimuthDeg: 0, elevationDeg: 90 }] };
    const run = started({ sites: [SITE, closed] });
    expect([...run.sites()].map(({ verdict }) => verdict)).toEqual(['within', 'no']);
    expect(run.end().answer).toBe('no');
    expect([...run.end().reasons]).toEqual([
      ['sky-few-satellites', 1],
      ['sky-high-pdop', 1],
    ]);
  });

  it('is for review at a site farther from the base than one base serves', () => {
    // Invented: on a meridian a degree is some 110.9 km long here, so that 0.9 and 0.92 of one lie on both sides of 100 km.
    const away = (degrees: number): SkySite => ({ ...SITE, id: 'base', latitudeDeg: SITE.latitudeDeg + degrees });
    const near = started({ base: away(0.9) });
    expect([...near.sites()].map(({ verdict }) => verdict)).toEqual(['within']);
    expect(near.findings.warnings.map(({ code }) => code)).not.toContain('sky-base-far');
    const far = started({ base: away(0.92), sites: [SITE, { ...SITE, id: 'beside' }, { ...away(0.9), id: 'other' }] });
    expect([...far.sites()].map(({ verdict }) => verdict)).toEqual(['review', 'review', 'within']);
    expect(far.end().answer).toBe('review');
    expect(far.end().reasons.get('sky-base-far')).toBe(2);
    expect(far.findings.warnings.map(({ code, message }) => [code, message])).toContainEqual([
      'sky-base-far',
      'the base is 102 km from S, and more than 100 km from 1 more',
    ]);
    // Latitude and longitude exchanged: thousands of kilometres.
    const exchanged = { ...SITE, id: 'base', latitudeDeg: SITE.longitudeDeg, longitudeDeg: SITE.latitudeDeg };
    expect(
      started({ base: exchanged })
        .findings.warnings.map(({ message }) => message)
        .join(),
    ).toMatch(/is \d{4} km from S/u);
  });
});
