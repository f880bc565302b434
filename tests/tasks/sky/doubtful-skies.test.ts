import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { readNavigation } from '../../../src/io/navigation/navigation-read.js';
import type { GeodeticPoint } from '../../../src/records/points/point.js';
import type { OrbitElements } from '../../../src/records/sky/orbit-elements.js';
import type { SkySite } from '../../../src/records/sky/site-sky.js';
import { createDoubtfulOccupations } from '../../../src/tasks/sky/doubtful-occupations.js';
import type { DoubtfulOccupation } from '../../../src/tasks/sky/doubtful-occupations.js';
import { occupationSkies } from '../../../src/tasks/sky/occupation-skies.js';
import { startSky } from '../../../src/tasks/sky/run-sky.js';
import { textOf } from '../../support/repository-files.js';

const read = readNavigation(textOf('examples/quillback-pan-sky/navigation.rnx'), Date.parse('2025-08-02T00:00:00Z'));
const WHOLE: readonly OrbitElements[] = read.ok ? read.value.elements : [];
const PLACE: GeodeticPoint = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
const BASE: GeodeticPoint = { latitudeDeg: -31.9, longitudeDeg: 21.4, ellipsoidalHeightM: 1200 };
const AT_MS = Date.parse('2025-08-02T08:00:00Z');

describe('what is kept of an occupation that is in doubt', () => {
  const epoch = (epochMs: number | null, satellitesUsed: number | null): object => ({
    fix: { epochMs, satellitesUsed },
    tip: geodeticToGeocentric({ ...PLACE, latitudeDeg: -30 }, WGS84),
  });
  const kept = (point: object, working: object): readonly DoubtfulOccupation[] => {
    const all = createDoubtfulOccupations();
    const whole = {
      point: { pointId: 'P', occupation: '2', baseId: 'B', verdict: 'review', reasons: [], position: null, ...point },
      working: { epochs: [epoch(AT_MS, 9)], position: null, base: { origin: { geodetic: BASE } }, ...working },
    };
    all.add(whole as never, { fixesSystem: { ellipsoid: WGS84 } } as never);
    return all.listed;
  };

  it('is nothing of an accepted one, and all of one for review or rejected', () => {
    expect(kept({ verdict: 'accepted' }, {})).toEqual([]);
    for (const verdict of ['review', 'rejected'])
      expect(kept({ verdict }, {})).toMatchObject([
        { pointId: 'P', occupation: '2', baseId: 'B', verdict, base: BASE },
      ]);
    expect(kept({}, { base: null })[0]?.base).toBeNull();
  });

  it('is nothing without a time or without a place', () => {
    expect(kept({}, { epochs: [epoch(null, 9)] })).toEqual([]);
    expect(kept({ position: { geodetic: PLACE } }, { epochs: [] })).toEqual([]);
    expect(kept({}, { epochs: [] })).toEqual([]);
  });

  it('stands in the middle of its time with the median of the satellites', () => {
    const of = (epochs: readonly object[]): unknown =>
      kept({}, { epochs }).map(({ atMs, satellitesUsed }) => [atMs - AT_MS, satellitesUsed]);
    expect(of([epoch(AT_MS + 3000, 9), epoch(AT_MS, 12), epoch(AT_MS + 1000, 10)])).toEqual([[1500, 10]]);
    expect(of([epoch(AT_MS, 7)])).toEqual([[0, 7]]);
    expect(of([epoch(AT_MS, null), epoch(null, 6)])).toEqual([[0, 6]]);
    expect(of([epoch(AT_MS, null)])).toEqual([[0, null]]);
  });

  it('lies where the point is, else where the working has it, else at its first tip', () => {
    const latitude = (point: object, working: object): number | undefined => kept(point, working)[0]?.place.latitudeDeg;
    expect(latitude({ position: { geodetic: PLACE } }, { position: { geodetic: BASE } })).toBe(-31.5);
    expect(latitude({}, { position: { geodetic: BASE } })).toBe(-31.9);
    expect(latitude({}, {})).toBeCloseTo(-30, 9);
  });
});

describe('the sky over an occupation', () => {
  const wall = { azimuthDeg: 0, elevationDeg: 25 };
  const skylines = new Map([
    ['P', [wall]],
    ['B', [{ ...wall, elevationDeg: 40 }]],
  ]);
  const occupation = (change: Partial<DoubtfulOccupation>): DoubtfulOccupation => ({
    ...{ pointId: 'P', occupation: '1', baseId: 'B', atMs: AT_MS, verdict: 'review', reasons: [], satellitesUsed: 9 },
    ...{ place: PLACE, base: BASE, ...change },
  });
  const over = (
    occupations: readonly DoubtfulOccupation[],
    elements = WHOLE,
    masks = skylines as ReadonlyMap<string, readonly (typeof wall)[]>,
  ): ReturnType<typeof occupationSkies> =>
    occupationSkies(occupations, { ellipsoid: WGS84, elements, skylines: masks, elevationMaskDeg: 10 });

  // The plan of a sky goes through the same masks in another way, satellite by satellite over the whole day.
  const planned = (site: GeodeticPoint & { skyline: SkySite['skyline'] }, base: SkySite | null, atMs: number) => {
    const run = startSky({
      ...{ ellipsoid: WGS84, sites: [{ id: 'S', ...site }], base, elements: WHOLE, elevationMaskDeg: 10 },
      ...{ times: { fromMs: atMs, toMs: atMs + 1, intervalS: 1 }, limits: { pdop: 4, satellites: 6 } },
    });
    if (!run.ok) throw new Error(run.problems[0]?.message);
    return [...run.value.sites()][0]?.epochs[0];
  };

  it('is that of a plan at the same instant, at each end and at both', () => {
    const [later, withBase] = [AT_MS + 3_600_000, { id: 'B', ...BASE, skyline: [{ ...wall, elevationDeg: 40 }] }];
    const { skies, withoutElements } = over([occupation({}), occupation({ occupation: '2', atMs: later })]);
    expect(withoutElements).toBe(0);
    for (const [index, atMs] of [AT_MS, later].entries()) {
      const atPoint = planned({ ...PLACE, skyline: [wall] }, null, atMs);
      const both = planned({ ...PLACE, skyline: [wall] }, withBase, atMs);
      const atBase = planned(withBase, null, atMs);
      expect(skies[index]).toMatchObject({
        satellites: both?.satellites,
        satellitesAtPoint: atPoint?.satellites,
        satellitesAtBase: atBase?.satellites,
      });
      expect(skies[index]?.pdopAtPoint).toBeCloseTo(atPoint?.dilution?.pdop ?? NaN, 9);
      expect(skies[index]?.pdopAtBase).toBeCloseTo(atBase?.dilution?.pdop ?? NaN, 9);
      expect(skies[index]?.satellites).toBeLessThan(skies[index]?.satellitesAtPoint ?? 0);
    }
  });

  it('is that of the point alone where no base is known, and open where no skyline is', () => {
    const { skies } = over([occupation({ base: null }), occupation({ pointId: 'Q', base: null })]);
    expect(skies[0]).toMatchObject({ satellitesAtBase: null, pdopAtBase: null, satellitesUsed: 9 });
    expect(skies[0]?.satellites).toBe(skies[0]?.satellitesAtPoint);
    expect(skies[1]?.satellites).toBe(planned({ ...PLACE, skyline: [] }, null, AT_MS)?.satellites);
  });

  it('counts occupations at whose time no elements hold, and leaves ill satellites out', () => {
    const old = occupation({ occupation: '3', atMs: Date.parse('1990-01-01T00:00:00Z') });
    const far = occupation({ occupation: '4', atMs: Date.parse('2027-01-01T00:00:00Z') });
    const made = over([old, occupation({}), far]);
    expect(made.withoutElements).toBe(2);
    expect(made.skies.map((sky) => sky.occupation)).toEqual(['1']);
    const ill = WHOLE.map((one) => (one.system === 'GPS' ? { ...one, isHealthy: false } : one));
    const without = over([occupation({})], ill).skies[0]?.satellitesAtPoint ?? NaN;
    const healthy = over(
      [occupation({})],
      WHOLE.filter(({ system }) => system !== 'GPS'),
    ).skies[0]?.satellitesAtPoint;
    expect(without).toBe(healthy);
    expect(without).toBeLessThan(made.skies[0]?.satellitesAtPoint ?? 0);
  });
});
