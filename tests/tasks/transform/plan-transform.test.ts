import { describe, expect, it } from 'vitest';
import type { GeoidModel } from '../../../src/core/geoid/geoid-height.js';
import { loadGeographicSystem } from '../../../src/files/systems/load-systems.js';
import { success } from '../../../src/records/outcome.js';
import type { NamedSide } from '../../../src/tasks/transform/change/named-side.js';
import { planTransform } from '../../../src/tasks/transform/plan-transform.js';
import type { PlannedTransform, TransformRequest } from '../../../src/tasks/transform/plan-transform.js';
import { formRead, formWritten, isOnePlane, reversedPlan } from '../../../src/tasks/transform/transform-plan.js';
import type { TransformPlan } from '../../../src/tasks/transform/transform-plan.js';
import { valueOf } from '../../support/shift-of-row.js';

const side = (name: string, own: Partial<NamedSide> = {}): NamedSide => ({
  kind: 'geographic',
  name,
  label: name,
  geographic: valueOf(loadGeographicSystem(name)),
  grid: null,
  areaOfUse: null,
  toWgs84: null,
  definition: null,
  ...own,
});
const CHANGE: TransformRequest['change'] = {
  operations: [],
  acceptsDefault: false,
  inverse: false,
  epochYear: null,
  motion: null,
  chainBy: null,
  chainModel: null,
};
const request = (from: NamedSide, to: NamedSide, own: Partial<TransformRequest> = {}): TransformRequest => ({
  from,
  to,
  change: CHANGE,
  shift: null,
  end: null,
  heights: { given: null, wanted: null, loadGeoid: null, statedFrame: null },
  needsPlace: false,
  acceptsPosition: false,
  ...own,
});
const planned = async (...asked: Parameters<typeof request>): Promise<PlannedTransform> =>
  valueOf(await planTransform(request(...asked)));
const refused = async (...asked: Parameters<typeof request>): Promise<string> => {
  const made = await planTransform(request(...asked));
  return made.ok ? 'taken' : `${made.problems[0]?.code ?? ''}: ${made.problems[0]?.message ?? ''}`;
};
const CAPE = side('EPSG:4222');
const HARTEBEESTHOEK = side('EPSG:4148');
const by = (...operations: readonly string[]): Partial<TransformRequest> => ({ change: { ...CHANGE, operations } });

describe('what a transformation moves', () => {
  it('is nothing between two writings of one frame', async () => {
    expect(await planned(HARTEBEESTHOEK, HARTEBEESTHOEK)).toMatchObject({
      moves: 'nothing',
      said: [],
      watched: [],
      epochYear: null,
      isOwnSite: false,
      plan: { change: [], entry: [], exit: [], needsPlace: false, judges: { source: true, target: true } },
    });
    expect((await planned(HARTEBEESTHOEK, HARTEBEESTHOEK, { needsPlace: true })).plan.needsPlace).toBe(true);
  });

  it('is the heights alone through a geoid', async () => {
    const geoid = {
      grid: { name: 'a geoid', sha256: 'ab', levels: [] },
      interpolation: 'bilinear',
    } as unknown as GeoidModel;
    const heights: TransformRequest['heights'] = {
      given: 'ellipsoidal',
      wanted: 'orthometric',
      loadGeoid: () => Promise.resolve(success({ geoid })),
      statedFrame: 'EPSG:4148',
    };
    const made = await planTransform(request(HARTEBEESTHOEK, HARTEBEESTHOEK, { heights }));
    expect(made.ok && made.value.moves).toBe('heights');
  });

  it('is the place by an operation, whose area is watched', async () => {
    const there = await planned(CAPE, HARTEBEESTHOEK, by('EPSG:1504'));
    expect(there.moves).toBe('place');
    expect(there.plan.change.map(({ direction }) => direction)).toEqual(['forward']);
    expect(there.watched).toHaveLength(1);
    // The area is looked at by latitude and longitude.
    expect(there.plan.needsPlace).toBe(true);
    // The other way the operation is applied backwards, and the way back of the plan turns it about.
    const back = await planned(HARTEBEESTHOEK, CAPE, by('EPSG:1504'));
    expect(back.said).not.toEqual(there.said);
    expect(reversedPlan(back.plan).change.map(({ direction }) => direction)).toEqual(['inverse']);
  });

  it('belongs to an epoch where the frame is international, and to none where it moves with its plate', async () => {
    const epoch = async (to: string): Promise<number | null> =>
      (await planned(side(to), side(to), { change: { ...CHANGE, epochYear: 2026.5 } })).epochYear;
    // EPSG:9990 is ITRF2020, latitude and longitude.
    expect(await epoch('EPSG:9990')).toBe(2026.5);
    expect(await epoch('EPSG:4148')).toBeNull();
  });
});

describe('what is asked for and does not go together', () => {
  it.each<readonly [string, NamedSide, NamedSide, Partial<TransformRequest>, string]>([
    [
      'nothing to apply backwards',
      CAPE,
      CAPE,
      { change: { ...CHANGE, inverse: true } },
      'usage-conflict: --inverse has nothing to apply backwards',
    ],
    [
      'an operation within one datum',
      CAPE,
      CAPE,
      by('EPSG:1504'),
      'usage-conflict: EPSG:4222 and EPSG:4222 are one datum',
    ],
    ['an operation that is not known', CAPE, HARTEBEESTHOEK, by('EPSG:1'), 'operation-unknown'],
    ['an operation that leads elsewhere', CAPE, HARTEBEESTHOEK, by('EPSG:1314'), 'system-mismatch: EPSG:1314'],
    [
      'one that leads there and back',
      CAPE,
      HARTEBEESTHOEK,
      by('EPSG:1504', 'EPSG:1504'),
      'system-mismatch: EPSG:1504,EPSG:1504',
    ],
    [
      'an operation against its direction',
      CAPE,
      HARTEBEESTHOEK,
      { change: { ...CHANGE, operations: ['EPSG:1504'], inverse: true } },
      'usage-conflict: --inverse would apply EPSG:1504',
    ],
    ['no operation between two datums', CAPE, HARTEBEESTHOEK, {}, 'operation-not-named'],
    [
      'a shift that no definition carries',
      CAPE,
      HARTEBEESTHOEK,
      { change: { ...CHANGE, acceptsDefault: true } },
      'operation-not-named',
    ],
    [
      'a plate within one frame',
      CAPE,
      CAPE,
      { change: { ...CHANGE, chainModel: 'itrf2020' } },
      'usage-conflict: a plate or a velocity is named',
    ],
    [
      'a plate beside an operation',
      CAPE,
      HARTEBEESTHOEK,
      { change: { ...CHANGE, operations: ['EPSG:1504'], chainModel: 'itrf2020' } },
      'usage-conflict: a plate or a velocity is named',
    ],
    [
      'a plate beside a default',
      CAPE,
      HARTEBEESTHOEK,
      { change: { ...CHANGE, acceptsDefault: true, chainModel: 'itrf2020' } },
      'usage-conflict: a plate or a velocity is named',
    ],
  ])('%s is refused', async (_, from, to, own, expected) => {
    expect((await refused(from, to, own)).slice(0, expected.length)).toBe(expected);
  });

  it('takes the shift that definitions carry: of both sides, and of WGS 84 none', async () => {
    const accepts: Partial<TransformRequest> = { change: { ...CHANGE, acceptsDefault: true } };
    const one = await planned(
      side('EPSG:4222', { toWgs84: [-136, -108, -292] }),
      side('EPSG:4326', { toWgs84: [] }),
      accepts,
    );
    expect(one.plan.change.map(({ direction }) => direction)).toEqual(['forward']);
    const both = await planned(
      side('EPSG:4222', { toWgs84: [-136, -108, -292] }),
      side('EPSG:4277', { toWgs84: [446.448, -125.157, 542.06] }),
      accepts,
    );
    expect(both.plan.change.map(({ direction }) => direction)).toEqual(['forward', 'inverse']);
  });
});

describe('a side that names no datum', () => {
  const plain = side('EPSG:4258', {
    label: '+proj=longlat +ellps=GRS80',
    geographic: valueOf(loadGeographicSystem('+proj=longlat +ellps=GRS80 +no_defs')),
  });
  it('is taken for that of the other one, and that is said', async () => {
    const words = ['+proj=longlat +ellps=GRS80 names no datum: it is taken to be ETRS89'];
    expect((await planned(plain, side('EPSG:4258'))).said).toEqual(words);
    expect((await planned(side('EPSG:4258'), plain)).said).toEqual(words);
    expect((await planned(plain, plain)).said).toEqual([]);
    expect((await planned(side('EPSG:4258'), side('EPSG:4258'))).said).toEqual([]);
  });
});

describe('the forms of a plan', () => {
  const leg = (needs: string, gives: string | null): object => ({
    direction: 'forward',
    step: { forward: { needs, gives }, inverse: { needs: gives, gives: needs } },
  });
  const plan = (own: object): TransformPlan =>
    ({
      from: { kind: 'projected' },
      to: { kind: 'geocentric' },
      entry: [],
      change: [],
      exit: [],
      ...own,
    }) as unknown as TransformPlan;

  it('are those of its systems, or of what stands before and after them', () => {
    expect([formRead(plan({})), formWritten(plan({}))]).toEqual(['plane', 'geocentric']);
    expect(formRead(plan({ entry: [leg('topocentric', 'geocentric'), leg('plane', 'plane')] }))).toBe('topocentric');
    expect(formWritten(plan({ exit: [leg('plane', 'plane'), leg('geocentric', 'topocentric')] }))).toBe('topocentric');
    // What changes no coordinate leaves the form of the system.
    expect(formWritten(plan({ exit: [leg('place', null)] }))).toBe('geocentric');
  });

  it('is one plane where one grid is at both ends and nothing moves the points between', () => {
    const grid = (name: string, is: object | null = {}): object => ({ kind: 'projected', name, grid: is });
    expect(isOnePlane(plan({ from: grid('G'), to: grid('G') }))).toBe(true);
    expect(isOnePlane(plan({ from: grid('G'), to: grid('H') }))).toBe(false);
    expect(isOnePlane(plan({ from: grid('G'), to: grid('G'), change: [leg('place', 'place')] }))).toBe(false);
    expect(isOnePlane(plan({ from: grid('G', null), to: grid('G') }))).toBe(false);
    expect(isOnePlane(plan({ from: grid('G'), to: grid('G', null) }))).toBe(false);
  });
});
