import { describe, expect, it } from 'vitest';
import { covarianceFromSigmas } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type { CauseDay, CausePoint } from '../../../../src/core/quality/cause/cause-day.js';
import type { CauseFinding, CauseReport } from '../../../../src/core/quality/cause/cause-finding.js';
import { likelyCause } from '../../../../src/core/quality/cause/likely-cause.js';
import { causeContext } from './hypotheses/a-day.js';
import { known, whole } from './hypotheses/a-known-day.js';

// Regression, kept whole: what is said of days with one slip and another. Whether causes are named rightly is what the rates
// and the days of likely-cause.test.ts hold.

/** Residuals of a quiet day, from a list that is no draw: within a sigma of nothing, and of no pattern. */
const QUIET = [0.3, -0.6, 0.1, 0.8, -0.2, -0.9, 0.5, 0.4, -0.7, 0.2, -0.4, 0.6, -0.1, 0.9, -0.8, 0.7, -0.3, -0.5];
const quiet = (index: number, axis: number): number => QUIET[(5 * index + 7 * axis) % QUIET.length] ?? 0;

function day(
  move: (point: CausePoint, index: number) => Partial<CausePoint>,
  change: Partial<CauseDay> = {},
): CauseDay {
  const points = Array.from({ length: 11 }, (_, index) => {
    const point = known(index % 9, {
      ...{ pointId: `K${String(index % 9)}`, occupation: index < 9 ? '1' : '2', middleMs: index * 1_800_000 },
      ...{ eastM: 0.008 * quiet(index, 0), northM: 0.008 * quiet(index, 1), upM: 0.015 * quiet(index, 2) },
      covariance: { ...covarianceFromSigmas(0.013, 0.014, 0.02, 0.2), euM2: 1e-5, nuM2: -1.5e-5 },
      ...{ controlHorizontalM2: 0.003 ** 2, controlVerticalM2: 0.005 ** 2 },
    });
    return { ...point, ...move(point, index) };
  });
  return causeContext(points, { ...whole, ...change }).day;
}

const up = (point: CausePoint, byM: number): Partial<CausePoint> => ({ upM: (point.upM ?? 0) + byM });
const along = (point: CausePoint, ppm: number): Partial<CausePoint> => {
  const angle = ((point.azimuthDeg ?? 0) * Math.PI) / 180;
  const byM = (point.distanceM ?? 0) * ppm * 1e-6;
  return { eastM: (point.eastM ?? 0) + byM * Math.sin(angle), northM: (point.northM ?? 0) + byM * Math.cos(angle) };
};
const louder = (point: CausePoint, times: number): Partial<CausePoint> => ({
  eastM: times * (point.eastM ?? 0),
  northM: times * (point.northM ?? 0),
  upM: times * (point.upM ?? 0),
});

const DAYS: Readonly<Record<string, CauseDay>> = {
  'a quiet day': day(() => ({})),
  'an antenna 1 dm too high': day((point) => up(point, 0.1)),
  'one base 6 cm too high': day((point) => (point.baseId === 'B' ? up(point, 0.06) : {})),
  'a pole 2 dm too long at one': day((point, index) => (index === 4 ? up(point, 0.2) : {})),
  'a pole too long from one on': day((point, index) => (index > 5 ? up(point, -0.5) : {})),
  'a wrong integer over a run': day((point, index) =>
    index > 2 && index < 6 ? { eastM: (point.eastM ?? 0) + 0.3, northM: (point.northM ?? 0) - 0.2 } : {},
  ),
  'a scale of 8 ppm': day((point) => along(point, 8)),
  'a scale and a pole': day((point, index) => ({ ...along(point, 12), ...(index === 7 ? up(point, 0.3) : {}) })),
  'four times the noise': day((point) => louder(point, 4)),
  'residuals of another north': day((point) => ({
    eastM: (point.eastM ?? 0) - 2e-4 * ((point.knownSecondM ?? 0) - 5e6),
    northM: (point.northM ?? 0) + 2e-4 * ((point.knownFirstM ?? 0) - 70_000),
  })),
  'digits left off': day((point) => ({ eastM: (point.eastM ?? 0) + 50_000, northM: (point.northM ?? 0) + 5_000_000 })),
  'no times and twice the noise': day((point) => ({ ...louder(point, 2), middleMs: null })),
  'four times the noise and a base off': day((point) => {
    const loud = louder(point, 4);
    return { ...loud, eastM: (loud.eastM ?? 0) + 0.2, northM: (loud.northM ?? 0) + 0.15 };
  }),
  'three single slips': day((point, index) =>
    [1, 5, 8].includes(index) ? { ...up(point, 0.3 * index), eastM: 0.1 * index } : {},
  ),
  'heights without a geoid': day((point, index) => ({ upM: (point.upM ?? 0) + 45 + (index % 9) / 10 })),
  'heights alone, leaning': day((point, index) => ({ ...up(point, 0.02 * index - 0.1), eastM: null, northM: null })),
  'plan alone': day((point) => ({ ...along(point, -20), upM: null })),
  'repeats that show more noise': day((point, index) => ({
    ...louder(point, 3),
    dayNoise: { planM2: 0.0004 + 0.00001 * index, upM2: 0.0009 },
  })),
  'two set-ups on one mark': day((point) => (point.baseId === 'C' ? up(point, 0.09) : {}), {
    bases: new Map(
      [...(whole.bases ?? [])].map(([key, base]) => [
        key,
        { ...base, markKey: 'one', sigmaVerticalM: 0.012, markSigmas: { horizontalM: 0.006, verticalM: 0.009 } },
      ]),
    ),
  }),
  'no error of a geoid': day((point, index) => (index === 2 ? up(point, 0.25) : {}), { geoidSigmaM: 0 }),
  'five values': { ...day((point) => up(point, 1)), points: day((point) => up(point, 1)).points.slice(0, 1) },
};

const digits = (value: number): string =>
  Math.abs(value) < 1e-8 ? '0' : value.toPrecision(5).replace(/\.?0+(?=e|$)/u, '');

function lineOf(finding: CauseFinding): string {
  const { cause, subject, estimates, chiSquareAfter, rmsAfterM, gain, chance, isOpen, explains, alsoFits, stand } =
    finding;
  const found = estimates.map(
    ({ name, value, sigma, unit }) => `${name} ${digits(value)}${unit}${sigma === null ? '' : ` ± ${digits(sigma)}`}`,
  );
  return [
    `${cause} [${subject}] ${found.join('; ')}`,
    `  χ² ${digits(chiSquareAfter)}, rms ${digits(rmsAfterM)}, gain ${digits(gain)}, chance ${digits(chance)}`,
    `  ${isOpen ? 'open' : 'closed'}, ${explains ? 'explains' : 'leaves more'}${stand === null ? '' : `, ${stand.name}${stand.isOnlyOfPoint ? ' alone' : ''}`}`,
    `  also ${alsoFits.join(' | ')}`,
  ].join('\n');
}

function textOf(report: CauseReport): string {
  const { observations, chiSquareBefore, rmsBeforeM, isDisturbed, verdict, tested, findings, alike } = report;
  return [
    `${verdict}, ${isDisturbed ? 'disturbed' : 'calm'}: ${String(observations)} values, χ² ${digits(chiSquareBefore)}, rms ${digits(rmsBeforeM)}, ${String(tested)} forms`,
    ...findings.map(lineOf),
    `alike: ${alike.join(', ')}`,
    ...report.together.map(({ finding, alike: own }) => `together ${lineOf(finding)}\n  alike ${own.join(', ')}`),
    ...report.thenSingles.map((finding) => `then ${lineOf(finding)}`),
    '',
  ].join('\n');
}

describe('what is said of a day, as it was', () => {
  it.each(Object.entries(DAYS))('%s', async (name, own) => {
    const report = likelyCause(own);
    if (report === null) throw new Error('no report');
    await expect(textOf(report)).toMatchFileSnapshot(`./reports/${name.replaceAll(/[, ]+/gu, '-')}.txt`);
  });

  it('is nothing where the covariance cannot be used', () => {
    expect(
      likelyCause(day(() => ({ covariance: covarianceFromSigmas(0, 0, 0, null), controlHorizontalM2: -1 }))),
    ).toBeNull();
  });
});
