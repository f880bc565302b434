import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import type { Symmetric2 } from '../../../src/core/numeric/symmetric2.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import { present } from '../../../src/records/present.js';
import type { SiteLimits, SiteResidualRow } from '../../../src/records/reports/parts/site-fit.js';
import { fitSite } from '../../../src/tasks/site/fit-site.js';
import type { FittedSite } from '../../../src/tasks/site/fit-site.js';
import { judgeSite } from '../../../src/tasks/site/judge-site.js';
import type { JudgedSite } from '../../../src/tasks/site/judge-site.js';
import type { ControlPair } from '../../../src/tasks/site/control/pair-control.js';
import { SURFACE_DEFAULTS } from '../../../src/tasks/site/surface/surface-settings.js';
import { siteTransformOf } from '../../../src/tasks/site/site-document-of.js';
import { valueOf } from '../../support/shift-of-row.js';

const NO_LIMITS: SiteLimits = { horizontalM: null, verticalM: null };
const round = (varianceM2: number): Symmetric2 => ({ xx: varianceM2, xy: 0, yy: varianceM2 });
/** A millimetre squared. */
const MM2 = 1e-6;

interface Made {
  readonly role?: 'fit' | 'check';
  /** Where it was measured, metres; the control is there too, but for `off`. */
  readonly at: readonly [number, number];
  /** Control less measured: east, north, up, metres. */
  readonly off?: readonly [number, number, number];
  readonly measured?: Symmetric2;
  readonly control?: Symmetric2;
  readonly upM2?: number;
}

const pairOf = ({ role = 'fit', at, off = [0, 0, 0], ...own }: Made, index: number): ControlPair => ({
  control: { pointId: `K${String(index)}` } as PointRow,
  measured: {
    row: {} as PointRow,
    station: { latitudeDeg: -31, longitudeDeg: 21 } as ControlPair['measured']['station'],
  },
  role,
  source: { eastM: at[0], northM: at[1] },
  target: { eastM: at[0] + off[0], northM: at[1] + off[1] },
  sourceCovariance: own.measured ?? round(0),
  targetCovariance: own.control ?? round(0),
  measuredHeightM: 100,
  controlHeightM: 100 + off[2],
  heightVarianceM2: own.upM2 ?? 0,
  shared: null,
  pointScaleFactor: 1,
  convergenceDeg: 0,
});

function judge(pairs: readonly ControlPair[], limits = NO_LIMITS): JudgedSite & { readonly fitted: FittedSite } {
  const settings = {
    ellipsoid: GRS80,
    scale: { kind: 'free' },
    vertical: 'shift',
    surface: SURFACE_DEFAULTS,
    allowPoorSpread: false,
  } as const;
  const fitted = valueOf(fitSite(pairs, settings));
  return { ...judgeSite(fitted, siteTransformOf(fitted), pairs, limits), fitted };
}
const rowOf = ({ rows }: JudgedSite, index: number): SiteResidualRow => present(rows[index], 'a row');

const CORNERS = [
  [-500, -500],
  [500, -500],
  [500, 500],
  [-500, 500],
] as const;
/** Four corners of a square without a fault, of so much variance an axis, and one point in the middle that is kept out. */
const square = (varianceM2: number, check: Omit<Made, 'at' | 'role'>): readonly ControlPair[] =>
  [
    ...CORNERS.map((at): Made => ({ at, control: round(varianceM2), upM2: varianceM2 })),
    { role: 'check' as const, at: [0, 0] as const, ...check },
  ].map(pairOf);

describe('a control point that is kept out', () => {
  // The middle of a square is known to a fourth of the variance of its corners (the mean of four), in height too.
  it('is held against its own uncertainty and that of the fit', () => {
    const own = { xx: 5 * MM2, xy: 0, yy: 3 * MM2 };
    const judged = judge(
      square(4 * MM2, { control: own, measured: { xx: 6 * MM2, xy: 0, yy: 12 * MM2 }, upM2: 8 * MM2 }),
    );
    const { east, north, height, verdict } = rowOf(judged, 4);
    expect(east?.sigmaM).toBeCloseTo(Math.sqrt((5 + 6 + 1) * MM2), 9);
    expect(north?.sigmaM).toBeCloseTo(Math.sqrt((3 + 12 + 1) * MM2), 9);
    expect(height?.sigmaM).toBeCloseTo(Math.sqrt((8 + 1) * MM2), 9);
    expect(verdict).toBe('within');
  });

  it.each<readonly [string, readonly [number, number, number]]>([
    ['east', [1, 0, 0]],
    ['north', [0, -1, 0]],
    ['both', [-0.6, 0.8, 0]],
    ['height', [0, 0, -1]],
  ])('is suspect beyond the limit of its tests: %s', (axis, [e, n, u]) => {
    const level = judge(square(4 * MM2, {})).fitted.levels.point;
    // The fourth of what the corners have, and three times as much of its own: 2 mm an axis. Of two axes the limit is
    // √(−2 ln level), exactly; of one it is the normal's.
    const sigmaM = 0.002;
    const plan = Math.sqrt(-2 * Math.log(level)) * sigmaM;
    const off = (by: number): Omit<Made, 'at'> => ({
      off: [by * plan * e, by * plan * n, by * u * sigmaM * present(zOf(level), 'z')],
      control: round(3 * MM2),
      upM2: 3 * MM2,
    });
    expect(rowOf(judge(square(4 * MM2, off(0.999))), 4)).toMatchObject({ verdict: 'within', reasons: [] });
    const beyond = rowOf(judge(square(4 * MM2, off(1.001))), 4);
    expect(beyond).toMatchObject({ verdict: 'no', reasons: ['site-check-exceeds'] });
    // Measured minus control.
    const said = axis === 'height' ? beyond.height : axis === 'north' ? beyond.north : beyond.east;
    expect(Math.sign(said?.residualM ?? 0)).toBe(-Math.sign(axis === 'height' ? u : axis === 'north' ? n : e));
  });

  it.each<readonly [string, readonly [number, number, number], Partial<SiteLimits>, SiteResidualRow['verdict']]>([
    ['nothing states how good it is', [0.4, 0.3, 0.2], {}, 'review'],
    ['it is at the limit in plan', [0.3, 0.4, 9], { horizontalM: 0.5 + 1e-9 }, 'within'],
    ['it is beyond the limit in plan', [0.3, 0.4, 0], { horizontalM: 0.499 }, 'no'],
    ['it is at the limit in height', [9, 9, -0.2], { verticalM: 0.2 + 1e-9 }, 'within'],
    ['it is beyond the limit in height', [0, 0, -0.2], { verticalM: 0.199 }, 'no'],
    ['it is beyond one limit of two', [0.01, 0, 0.3], { horizontalM: 0.1, verticalM: 0.2 }, 'no'],
    ['it is within both', [0.01, 0, 0.1], { horizontalM: 0.1, verticalM: 0.2 }, 'within'],
  ])('is judged by limits where no sigma is stated: %s', (_, off, limits, expected) => {
    const { verdict, east, height } = rowOf(judge(square(0, { off }), { ...NO_LIMITS, ...limits }), 4);
    expect(verdict).toBe(expected);
    expect([east?.sigmaM, height?.sigmaM]).toEqual([null, null]);
    expect(height?.residualM).toBeCloseTo(-off[2], 9);
  });
});

/** The point of the normal distribution that |z| passes with this chance: by bisection of its tail, which is summed. */
function zOf(level: number): number {
  const tail = (z: number): number => {
    let sum = 0;
    const steps = 20_000;
    for (let i = 0; i < steps; i += 1) sum += Math.exp(-0.5 * (((i + 0.5) * z) / steps) ** 2);
    return 1 - (2 * z * sum) / steps / Math.sqrt(2 * Math.PI);
  };
  let [low, high] = [0, 10];
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (tail(middle) > level) low = middle;
    else high = middle;
  }
  return low;
}

type Figure = readonly [name: string, value: number | null];

describe('a fit', () => {
  const MADE: readonly Made[] = [
    {
      at: [0, 0],
      off: [0.004, -0.006, 0.002],
      measured: { xx: 9 * MM2, xy: 4 * MM2, yy: 16 * MM2 },
      control: { xx: 4 * MM2, xy: -1 * MM2, yy: 9 * MM2 },
      upM2: 30 * MM2,
    },
    {
      at: [900, 100],
      off: [-0.007, 0.003, -0.004],
      measured: { xx: 25 * MM2, xy: -9 * MM2, yy: 4 * MM2 },
      control: round(6 * MM2),
      upM2: 40 * MM2,
    },
    {
      at: [800, 1200],
      off: [0.002, 0.009, 0.006],
      measured: { xx: 8 * MM2, xy: 5 * MM2, yy: 12 * MM2 },
      control: round(5 * MM2),
      upM2: 50 * MM2,
    },
    {
      at: [-300, 700],
      off: [-0.005, -0.001, 0.001],
      measured: { xx: 16 * MM2, xy: 0, yy: 9 * MM2 },
      control: round(4 * MM2),
      upM2: 20 * MM2,
    },
    {
      role: 'check',
      at: [350, 400],
      off: [0.011, -0.013, 0.008],
      measured: { xx: 20 * MM2, xy: 11 * MM2, yy: 14 * MM2 },
      control: { xx: 3 * MM2, xy: 2 * MM2, yy: 5 * MM2 },
      upM2: 25 * MM2,
    },
  ];
  const straight = MADE.map(pairOf);
  /** Every figure of every row, named; east and north exchanged where they have changed places. */
  const figures = (
    { rows }: JudgedSite,
    axes: readonly ('east' | 'north' | 'height')[] = ['east', 'north', 'height'],
  ): readonly Figure[] =>
    rows.flatMap((row) =>
      axes.flatMap((axis, place) =>
        Object.entries(row[axis] ?? {}).map(([name, value]): Figure => [
          `${row.pointId} ${String(place)} ${name}`,
          value,
        ]),
      ),
    );
  const expectAlike = (found: readonly Figure[], expected: readonly Figure[]): void => {
    expect(found.map(([name, value]) => [name, value === null])).toEqual(
      expected.map(([name, value]) => [name, value === null]),
    );
    for (const [index, [name, value]] of found.entries())
      expect(value ?? 0, name).toBeCloseTo(expected[index]?.[1] ?? 0, 7);
  };

  it.each([90, 180, 37, -128.4])(
    'says the same where the measured axes are turned by %s°, places and errors alike',
    (degrees) => {
      const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
      const turned = straight.map((pair): ControlPair => {
        const { xx, xy, yy } = pair.sourceCovariance;
        const { eastM, northM } = pair.source;
        return {
          ...pair,
          source: { eastM: c * eastM - s * northM, northM: s * eastM + c * northM },
          sourceCovariance: {
            xx: c * c * xx - 2 * c * s * xy + s * s * yy,
            xy: c * s * (xx - yy) + (c * c - s * s) * xy,
            yy: s * s * xx + 2 * c * s * xy + c * c * yy,
          },
        };
      });
      expectAlike(figures(judge(turned)), figures(judge(straight)));
    },
  );

  it('says the same where east and north change places', () => {
    const flip = ({ xx, xy, yy }: Symmetric2): Symmetric2 => ({ xx: yy, xy, yy: xx });
    // A mirror image is another site: both sides are turned over, so that it stays the same one.
    const flipped = straight.map((pair): ControlPair => ({
      ...pair,
      source: { eastM: pair.source.northM, northM: pair.source.eastM },
      target: { eastM: present(pair.target, 'target').northM, northM: present(pair.target, 'target').eastM },
      sourceCovariance: flip(pair.sourceCovariance),
      targetCovariance: flip(pair.targetCovariance),
    }));
    expectAlike(figures(judge(flipped), ['north', 'east', 'height']), figures(judge(straight)));
  });

  it('names no outlier among residuals below half a millimetre, of which no sigma is stated', () => {
    const tiny = (first: number): readonly ControlPair[] =>
      [...CORNERS, [0, 100] as const, [100, 0] as const, [-100, 30] as const].map((at, index) =>
        pairOf({ at, off: [index === 4 ? first : 0.00001 * (index % 3), 0, 0] }, index),
      );
    expect(judge(tiny(0.0006)).worst).toBeNull();
    expect(judge(tiny(0.05)).worst).toMatchObject({ pointId: 'K4', what: 'plan', test: 'Pope' });
  });

  it('calls a point unchecked that the others hardly see', () => {
    // Two of three points a kilometre apart and one of no weight: the fit goes through the two.
    const pairs = [
      { at: [0, 0], control: round(MM2), upM2: MM2 } as const,
      { at: [1000, 0], control: round(MM2), upM2: MM2 } as const,
      { at: [500, 800], control: round(1), upM2: 1 } as const,
    ].map(pairOf);
    expect(judge(pairs).rows.map(({ verdict }) => verdict)).toEqual(['review', 'review', 'within']);
  });
});
