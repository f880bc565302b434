import { describe, expect, it } from 'vitest';
import type { OccupationEstimate } from '../../../../src/core/observation/repeats/occupation-estimate.js';
import { contrastLinks } from '../../../support/contrast-links.js';
import { noisyDay } from '../../../../src/core/quality/day/noisy-day.js';
import type { ContrastedPoint } from '../../../../src/core/quality/day/noisy-day.js';
import { standContrasts } from '../../../../src/core/quality/day/stand-contrasts.js';
import type { BaselineContrast, OwnPart } from '../../../../src/core/quality/day/stand-contrasts.js';
import { seededRandom } from '../../../support/seeded-random.js';

// Regression, kept whole: contrasts, what they share and what they say together, of invented days to six digits. Whether they are
// right is what the other tests of this folder hold.

const TIMES = { correlationHorizontalS: 600, correlationVerticalS: 2200 };
const diagonal = (plan: number, north: number, up: number): OccupationEstimate['mark'] => ({
  ...{ eeM2: plan ** 2, enM2: 0, euM2: 0, nnM2: north ** 2, nuM2: 0, uuM2: up ** 2 },
});

interface Shape {
  readonly points: number;
  readonly stands: number;
  /** How many times as large as stated what grows with the baseline is, and everything. */
  readonly growing?: number;
  readonly all?: number;
  readonly baselineM?: (point: number) => number;
  readonly change?: (point: number, stand: number) => Partial<OccupationEstimate>;
  readonly move?: (point: number, stand: number) => number;
  readonly own?: (point: number) => Partial<OwnPart>;
}

function day(seed: number, shape: Shape): readonly ContrastedPoint[] {
  const random = seededRandom(seed);
  const { growing = 1, all = 1, baselineM = () => 15_000 } = shape;
  return Array.from({ length: shape.points }, (_, point) => {
    const lengthKm = baselineM(point) / 1000;
    const own = { planM2: 4e-6, upM2: 1e-6, azimuthRad: 0.4 * point, ...shape.own?.(point) };
    const estimates = Array.from({ length: shape.stands }, (_s, stand): OccupationEstimate => {
      const one = (sigma: number): number => all * sigma * random.normal();
      const grow = growing * 0.0004 * lengthKm;
      const startMs = 3_600_000 * stand + 700_000 * point;
      return {
        position: {
          eastM: one(0.004) + one(0.006) + one(grow) + (shape.move?.(point, stand) ?? 0),
          northM: one(0.005) + one(0.006) + one(grow),
          upM: one(0.008) + one(0.012) + one(2.5 * grow),
        },
        independent: diagonal(0.0045, 0.0055, 0.008),
        correlated: diagonal(0.006, 0.0065, 0.012),
        baseline: diagonal(0.0004 * lengthKm, 0.00042 * lengthKm, 0.001 * lengthKm),
        mark: diagonal(0.02, 0.02, 0.03),
        setup: diagonal(0.001, 0.0012, 0.002),
        ...{ markKey: stand % 3 === 2 ? 'N' : 'M', setupKey: stand % 2 === 0 ? 'S' : 'T', baselineM: baselineM(point) },
        ...{ startMs, endMs: startMs + 20_000 },
        ...shape.change?.(point, stand),
      };
    });
    return {
      pointId: `P${String(point)}`,
      contrasts: standContrasts(
        estimates,
        estimates.map(() => own),
        TIMES,
      ),
    };
  });
}

const DAYS: Readonly<Record<string, readonly ContrastedPoint[]>> = {
  'as stated': day(1, { points: 7, stands: 4, baselineM: (point) => 4000 + 4000 * point }),
  'what grows is four times as large': day(2, { points: 8, stands: 4, growing: 4, baselineM: (p) => 9000 + 2000 * p }),
  'everything is three times as large': day(3, {
    points: 8,
    stands: 3,
    all: 3,
    baselineM: (p) => (p % 2 === 0 ? 300 : 30_000),
  }),
  'two points of eight were occupied wrongly': day(4, {
    ...{ points: 8, stands: 4, growing: 3 },
    move: (point, stand) => (point < 2 && stand === 1 ? 2 : 0),
  }),
  'no times and no directions': day(5, {
    ...{ points: 4, stands: 3, all: 2, own: () => ({ azimuthRad: null }) },
    change: () => ({ startMs: null, endMs: null }),
  }),
  'bases and lengths that are not known': day(6, {
    ...{ points: 5, stands: 5 },
    change: (point, stand) => (stand === 0 ? { markKey: null } : point === 1 ? { baselineM: null } : {}),
  }),
  'a point that was occupied twelve times': day(7, { points: 2, stands: 12, change: () => ({ markKey: 'M' }) }),
  'more than a hundred points': day(8, { points: 130, stands: 2, growing: 2, baselineM: (p) => 300 * p }),
};

const digits = (value: number | null): string =>
  value === null ? '-' : Math.abs(value) < 1e-14 ? '0' : String(Number(value.toPrecision(6)));
const contrastText = (c: BaselineContrast): string =>
  `  ${c.axis} ${[c.baselineM, c.differenceM, c.constantM2, c.growingM2, c.otherM2, c.tauS].map(digits).join(' ')}; shares ${c.shares.map(digits).join(' ')}`;
const standText = ({ stands }: BaselineContrast): readonly string[] =>
  stands.map(
    ({ markKey, azimuthRad, middleMs, constantM, growingM }) =>
      `    ${markKey} ${[azimuthRad, middleMs, ...constantM, ...growingM].map(digits).join(' ')}`,
  );

describe('what a day says of its noise, as it was', () => {
  it.each(Object.entries(DAYS))('%s', async (name, points) => {
    const shown = points.slice(0, 3);
    const pointOf = shown.flatMap(({ contrasts }, point) => contrasts.map(() => point));
    const links = contrastLinks(
      shown.flatMap(({ contrasts }) => contrasts),
      pointOf,
    );
    const lines = [
      ...shown.flatMap(({ pointId, contrasts }) => [
        pointId,
        ...contrasts.map(contrastText),
        ...contrasts.slice(0, 1).flatMap(standText),
      ]),
      ...links.map(
        ({ first, second, constantM2, growingM2, pairs }) =>
          `${String(first)} with ${String(second)}: ${[constantM2, growingM2, pairs].map(digits).join(' ')}`,
      ),
      JSON.stringify(
        noisyDay(points),
        (_, value: unknown) =>
          typeof value === 'number' ? (Number.isFinite(value) ? digits(value) : String(value)) : value,
        1,
      ),
    ];
    await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot(`./days/${name.replaceAll(' ', '-')}.txt`);
  });

  it('is nothing of no contrasts', () => {
    expect(noisyDay([])).toBeNull();
    expect(noisyDay([{ pointId: 'P', contrasts: [] }])).toBeNull();
  });
});
