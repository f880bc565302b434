import { describe, expect, it } from 'vitest';
import type { GeoidModel } from '../../../src/core/geoid/geoid-height.js';
import { failure, success } from '../../../src/records/outcome.js';
import { errorProblem } from '../../../src/records/problem.js';
import { createAreaWatch } from '../../../src/tasks/transform/area-watch.js';
import { planHeights } from '../../../src/tasks/transform/plan-heights.js';
import type { GeoidLoader } from '../../../src/tasks/transform/plan-heights.js';
import type { PlannedTransform } from '../../../src/tasks/transform/plan-transform.js';
import type { PointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import type { TransformSide } from '../../../src/tasks/transform/transform-plan.js';
import { heightsWritten, siteHeightLines, siteHeightProblem } from '../../../src/tasks/transform/written-heights.js';

type Kind = 'ellipsoidal' | 'orthometric' | null;
type SideKind = TransformSide['kind'];
const side = (kind: SideKind, name: string = kind): TransformSide => ({ kind, name, areaOfUse: null }) as TransformSide;
const geoid = { grid: { name: 'a geoid' } } as unknown as GeoidModel;
const always: GeoidLoader = () => Promise.resolve(success({ geoid }));
/** A geoid that belongs to the frame of one side. */
const only =
  (name: string, code: 'grid-frame-mismatch' | 'grid-file-missing' = 'grid-frame-mismatch'): GeoidLoader =>
  ({ name: asked }) =>
    Promise.resolve(
      asked === name
        ? success({ geoid })
        : failure(errorProblem(code as 'grid-frame-mismatch', { message: `not in ${asked}`, hint: '' })),
    );

async function planned(
  from: SideKind,
  to: SideKind,
  given: Kind,
  wanted: Kind,
  loadGeoid: GeoidLoader | null,
): Promise<unknown> {
  const made = await planHeights({ given, wanted, loadGeoid, statedFrame: null }, side(from, 'from'), side(to, 'to'));
  if (!made.ok) return `${made.problems[0]?.code ?? ''}: ${made.problems[0]?.message ?? ''}`;
  const { needs, gives, atSource, atTarget } = made.value;
  const way = (legs: typeof atSource): readonly string[] => legs.map(({ direction }) => direction);
  return [needs, gives, way(atSource), way(atTarget)];
}
const same = (needs: Kind): unknown => [needs, null, [], []];

describe('heights as they are asked for', () => {
  it.each<readonly [SideKind, SideKind, Kind, Kind, unknown]>([
    ['geographic', 'geographic', null, null, same(null)],
    ['geographic', 'projected', 'ellipsoidal', null, same('ellipsoidal')],
    ['geographic', 'projected', 'orthometric', null, same('orthometric')],
    ['geographic', 'projected', null, 'ellipsoidal', same('ellipsoidal')],
    ['geographic', 'projected', 'orthometric', 'orthometric', same('orthometric')],
    ['geographic', 'geocentric', null, null, same(null)],
    ['geographic', 'geocentric', 'ellipsoidal', null, same('ellipsoidal')],
    ['geocentric', 'geographic', null, null, same(null)],
    ['geocentric', 'geographic', null, 'ellipsoidal', same('ellipsoidal')],
    [
      'geocentric',
      'geographic',
      'orthometric',
      null,
      'usage-conflict: geocentric coordinates hold an ellipsoidal height',
    ],
    ...(
      [
        ['geographic', 'geographic', 'ellipsoidal', 'orthometric', 'ellipsoidal', 'orthometric'],
        ['geographic', 'geographic', 'orthometric', 'ellipsoidal', 'orthometric', 'ellipsoidal'],
        // An orthometric height is wanted of one that is not said: it is ellipsoidal.
        ['geographic', 'geographic', null, 'orthometric', 'ellipsoidal', 'orthometric'],
        ['geocentric', 'geographic', null, 'orthometric', 'ellipsoidal', 'orthometric'],
        ['geographic', 'geocentric', 'orthometric', null, 'orthometric', 'ellipsoidal'],
      ] as const
    ).map(
      ([from, to, given, wanted, before, after]) =>
        [
          from,
          to,
          given,
          wanted,
          `config-missing: ${before} heights become ${after} through a geoid, and none is named`,
        ] as const,
    ),
  ])('without a geoid: %s to %s, given %s, wanted %s', async (from, to, given, wanted, expected) => {
    expect(await planned(from, to, given, wanted, null)).toEqual(expected);
  });

  const UNUSED = 'usage-conflict: --geoid is given and no height changes its kind';
  it.each<readonly [SideKind, SideKind, Kind, Kind, unknown]>([
    ['geographic', 'geographic', null, null, UNUSED],
    ['geographic', 'geographic', 'ellipsoidal', null, UNUSED],
    ['geographic', 'geographic', 'orthometric', 'orthometric', UNUSED],
    ['geocentric', 'geographic', null, 'ellipsoidal', UNUSED],
    // H = h − N in the frame of the target, h = H + N in that of the source.
    ['geographic', 'geographic', 'ellipsoidal', 'orthometric', ['ellipsoidal', 'orthometric', [], ['inverse']]],
    ['geographic', 'geographic', null, 'orthometric', ['ellipsoidal', 'orthometric', [], ['inverse']]],
    ['geocentric', 'geographic', null, 'orthometric', [null, 'orthometric', [], ['inverse']]],
    ['geographic', 'geographic', 'orthometric', 'ellipsoidal', ['orthometric', 'ellipsoidal', ['forward'], []]],
    // A geoid says that what becomes ellipsoidal was orthometric.
    ['geographic', 'geographic', null, 'ellipsoidal', ['orthometric', 'ellipsoidal', ['forward'], []]],
    ['geographic', 'geocentric', null, null, ['orthometric', 'ellipsoidal', ['forward'], []]],
    ['geographic', 'geocentric', 'orthometric', null, ['orthometric', 'ellipsoidal', ['forward'], []]],
  ])('with a geoid: %s to %s, given %s, wanted %s', async (from, to, given, wanted, expected) => {
    expect(await planned(from, to, given, wanted, always)).toEqual(expected);
  });

  it('are read of a geoid where its frame is, at the other end if need be', async () => {
    expect(await planned('geographic', 'geographic', 'ellipsoidal', 'orthometric', only('from'))).toEqual([
      'ellipsoidal',
      'orthometric',
      ['inverse'],
      [],
    ]);
    expect(await planned('geographic', 'geographic', 'orthometric', 'ellipsoidal', only('to'))).toEqual([
      'orthometric',
      'ellipsoidal',
      [],
      ['forward'],
    ]);
    // Neither of them: the end it should belong to is named; and another mistake is none of the frame.
    expect(await planned('geographic', 'geographic', 'ellipsoidal', 'orthometric', only('none'))).toBe(
      'grid-frame-mismatch: not in to',
    );
    expect(
      await planned('geographic', 'geographic', 'ellipsoidal', 'orthometric', only('from', 'grid-file-missing')),
    ).toBe('grid-file-missing: not in to');
  });
});

describe('heights that are written', () => {
  const transform = (own: object = {}): PlannedTransform =>
    ({
      from: side('geographic'),
      to: side('projected'),
      end: null,
      heights: { gives: null },
      ...own,
    }) as unknown as PlannedTransform;
  const site = (at: 'in' | 'out', heightKind: Kind, vertical: object | null = {}): object => ({
    end: { at, site: { heightKind, transform: { vertical } } },
  });
  const [none, both] = [
    { orthometric: false, ellipsoidal: false },
    { orthometric: true, ellipsoidal: true },
  ];
  const [h, H] = [
    { orthometric: false, ellipsoidal: true },
    { orthometric: true, ellipsoidal: false },
  ];
  const written = (file: typeof both, own: object = {}): readonly string[] => heightsWritten(transform(own), file);

  it('are those of the file, what the geoid makes, and those of geocentric coordinates', () => {
    expect(written(none)).toEqual([]);
    expect(written(both)).toEqual(['orthometric', 'ellipsoidal']);
    expect(written(h, { heights: { gives: 'orthometric' } })).toEqual(['orthometric', 'ellipsoidal']);
    expect(written(H, { heights: { gives: 'ellipsoidal' } })).toEqual(['orthometric', 'ellipsoidal']);
    expect(written(none, { from: side('geocentric') })).toEqual(['ellipsoidal']);
    expect(written(both, { to: side('geocentric') })).toEqual(['orthometric']);
  });

  it('are on a site of the kind it was fitted with, and from a site as well', () => {
    for (const at of ['in', 'out'] as const) {
      expect(written(both, site(at, 'orthometric'))).toEqual(['orthometric']);
      expect(written(both, site(at, 'ellipsoidal'))).toEqual(['ellipsoidal']);
      expect(written(both, site(at, null))).toEqual(['orthometric', 'ellipsoidal']);
    }
    // What comes off a site may be changed by the geoid then.
    expect(written(H, { ...site('in', 'orthometric'), heights: { gives: 'ellipsoidal' } })).toEqual([
      'orthometric',
      'ellipsoidal',
    ]);
  });

  it('are asked for where the file has the other kind than the site', () => {
    const problem = (file: typeof both, own: object): unknown => {
      const found = siteHeightProblem(transform(own), file, 'points.csv');
      return found === null ? null : [found.code, found.expected, found.hint?.split(' ')[0]];
    };
    expect(problem(h, site('out', 'orthometric'))).toEqual(['csv-missing-column', 'orthometric_height_m', 'give']);
    expect(problem(h, site('in', 'orthometric'))).toEqual(['csv-missing-column', 'orthometric_height_m', 'heights']);
    expect(problem(H, site('out', 'ellipsoidal'))).toEqual(['csv-missing-column', 'ellipsoidal_height_m', 'give']);
    expect(problem(h, { ...site('out', 'orthometric'), heights: { gives: 'orthometric' } })).toBeNull();
    expect(problem(h, { ...site('in', 'orthometric'), heights: { gives: 'orthometric' } })).not.toBeNull();
    for (const [file, own] of [
      [none, site('out', 'orthometric')],
      [H, site('out', 'orthometric')],
      [both, site('out', 'orthometric')],
      [h, site('out', null)],
      [h, {}],
    ] as const)
      expect(problem(file, own)).toBeNull();
  });

  it('are said to be unchanged, or left out, on a site', () => {
    const lines = (file: typeof both, own: object): readonly string[] => siteHeightLines(transform(own), file);
    const unchanged = 'heights are unchanged: the site was fitted in plan only';
    const leftOut = 'ellipsoidal heights are left out: the site was fitted with orthometric ones';
    expect(lines(both, {})).toEqual([]);
    expect(lines(none, site('out', null, null))).toEqual([]);
    expect(lines(h, site('out', null, null))).toEqual([unchanged]);
    expect(lines(H, site('out', null, null))).toEqual([unchanged]);
    expect(lines(both, site('out', 'orthometric'))).toEqual([leftOut]);
    expect(lines(H, site('out', 'orthometric'))).toEqual([]);
    expect(lines(both, { ...site('out', 'orthometric'), heights: { gives: 'orthometric' } })).toEqual([]);
    expect(lines(both, site('out', 'ellipsoidal'))).toEqual([
      'orthometric heights are left out: the site was fitted with ellipsoidal ones',
    ]);
  });
});

describe('points outside an area', () => {
  const area = { westDeg: 8, southDeg: 45, eastDeg: 10, northDeg: 47, description: 'Somewhere.' };
  const target: TransformSide = { ...side('projected', 'TO'), areaOfUse: area };
  const source: TransformSide = { ...side('projected', 'FROM'), areaOfUse: area };
  const point = (latitudeDeg: number, longitudeDeg: number, isOutsideArea = true): PointOnTheWay =>
    ({ latitudeDeg, longitudeDeg, isOutsideArea }) as PointOnTheWay;

  it('are warned of with the distance, counted, and the farthest is named', () => {
    const watch = createAreaWatch(null, target, []);
    expect(watch.check({ pointId: 'I' }, point(46, 9, false))).toBeNull();
    expect(watch.summary()).toEqual([]);
    // A degree of the meridian is 111 km.
    expect(watch.check({ pointId: 'A' }, point(48, 9))?.message).toBe(
      'point A is 111 km outside the area of use of TO: Somewhere',
    );
    expect(watch.summary()).toEqual(['1 point is outside the area of use of TO, the farthest by 111 km (A)']);
    watch.check({ pointId: 'B' }, point(49, 9));
    watch.check({ pointId: 'C' }, point(48, 9));
    expect(watch.summary()).toEqual([
      expect.stringMatching(/^3 points are outside the area of use of TO, the farthest by 22[23] km \(B\)$/u),
    ]);
  });

  it('of the zone they come from are asked about', () => {
    const watch = createAreaWatch(source, side('geographic', 'TO'), []);
    const [away, at] = [point(48, 9, false), point(46, 9, false)];
    expect(watch.check({ pointId: 'A' }, away)).toBeNull();
    expect(watch.check({ pointId: 'I' }, at)).toBeNull();
    expect([away.isOutsideArea, at.isOutsideArea]).toEqual([true, false]);
    expect(watch.summary()).toEqual([
      '1 point is outside the area of use of FROM, which the file is said to be in, the farthest by 111 km (A): is it their zone?',
    ]);
  });

  it('of an operation are counted for each operation', () => {
    const operation = (name: string, own: object): never => ({ name, area: { ...area, ...own } }) as never;
    const watch = createAreaWatch(null, side('geographic', 'TO'), [
      operation('one', {}),
      operation('two', { northDeg: 60 }),
    ]);
    for (const [id, latitudeDeg] of [
      ['A', 46],
      ['B', 48],
      ['C', 49],
      ['D', 61],
    ] as const) {
      const own = point(latitudeDeg, 9, false);
      watch.check({ pointId: id }, own);
      expect(own.isOutsideArea).toBe(id !== 'A');
    }
    expect(watch.summary()).toEqual([
      '3 points, B the first, are outside the area one was published for (Somewhere.): its stated accuracy does not hold there',
      'point D is outside the area two was published for (Somewhere.): its stated accuracy does not hold there',
    ]);
  });
});
