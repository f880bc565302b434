import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { covarianceFromSigmas } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type { CauseDay, CausePoint } from '../../../../src/core/quality/cause/cause-day.js';
import type { CauseReport } from '../../../../src/core/quality/cause/likely-cause.js';
import { likelyCause } from '../../../../src/core/quality/cause/likely-cause.js';
import { seededRandom } from '../../../support/seeded-random.js';

const SIGMAS_M = [0.01, 0.01, 0.02] as const;
const RECORDING_M2 = 1e-8;
type Error3 = readonly [number, number, number];

/** Control points far apart in time, one occupation each unless named twice; their errors as given. */
function dayOf(errors: readonly Error3[], names?: readonly string[]): CauseDay {
  const points = errors.map(([east, north, up], index): CausePoint => ({
    pointId: names?.[index] ?? `K${String(index)}`,
    occupation: String(index),
    eastM: east,
    northM: north,
    upM: up,
    latitudeDeg: null,
    longitudeDeg: null,
    convergenceDeg: 0,
    pointScaleFactor: 1,
    combinedFactor: null,
    knownFirstM: null,
    knownSecondM: null,
    knownHeightM: null,
    geoidHeightM: null,
    baseId: 'B',
    distanceM: null,
    azimuthDeg: null,
    heightDifferenceM: null,
    middleMs: index * 36_000_000,
    poleLengthM: 2,
    tiltDeg: 0,
    covariance: covarianceFromSigmas(...SIGMAS_M, null),
    controlHorizontalM2: 0,
    controlVerticalM2: 0,
  }));
  return {
    points,
    heightKind: 'ellipsoidal',
    bases: new Map([
      [
        'B',
        {
          latitudeDeg: 47,
          longitudeDeg: 15,
          name: 'B',
          markKey: 'M',
          markSigmas: { horizontalM: 0, verticalM: 0 },
          sigmaHorizontalM: 0,
          sigmaVerticalM: 0,
          antenna: null,
        },
      ],
    ]),
    axisSigns: [1, 1],
    metresPerUnit: 1,
    correlationHorizontalS: 60,
    correlationVerticalS: 60,
    geoidSigmaM: 0,
    phaseCentreOffsetsM: [],
    isTiltMeasured: true,
    largestLeanDeg: null,
    frameShifts: [],
    ellipsoid: WGS84,
    forward: null,
    inverse: null,
    otherZones: [],
  };
}

const COUNT = 12;
/** A quiet day but for one occupation, off in space by so many of its own sigmas along a fixed way. */
function offBy(sigmas: number): CauseDay {
  const way = [2 / 3, -2 / 3, 1 / 3];
  return dayOf(
    Array.from({ length: COUNT }, (_, index): Error3 => {
      const size = index === 5 ? sigmas : 0;
      const small = 0.3 * (index % 2 === 0 ? 1 : -1);
      return SIGMAS_M.map((sigma, axis) => sigma * (small + size * (way[axis] as number))) as unknown as Error3;
    }),
  );
}
const causesOf = (report: CauseReport | null): readonly string[] =>
  report?.verdict === 'named' ? [report.findings[0]?.cause ?? '', ...report.alike] : [];

describe('chance in one occupation', () => {
  // Limit for k = 3, m = 12: 1.5 · F(3, 4) at 0.005/12 = 131.83, root 11.48 (SciPy 1.11 stats.f.isf(0.005 / 12, 3, 4)).
  it.each([
    [7, true],
    [11, true],
    [12.3, false],
    [20, false],
  ])('is a tie of a mistake of %s of its own sigmas: %s', (sigmas, isTied) => {
    const report = likelyCause(offBy(sigmas));
    const causes = causesOf(report);
    expect(causes.slice(0, 2).sort()).toEqual(['control-coordinate', 'wrong-integer']);
    expect(causes.includes('occupation-noise')).toBe(isTied);
    expect(report?.findings.some(({ cause }) => cause === 'occupation-noise')).toBe(isTied);
  });

  it('says by what factor the occupation would be noisier, and the gain of a variance found for it', () => {
    const report = likelyCause(offBy(8));
    const tied = report?.findings.find(({ cause }) => cause === 'occupation-noise');
    // χ² of its own values with the recording variance: the others do not touch it, as they are far apart in time.
    const drop = [-0.3 + 16 / 3, -0.3 - 16 / 3, -0.3 + 8 / 3]
      .map((value, axis) => value ** 2 / (1 + RECORDING_M2 / (SIGMAS_M[axis] as number) ** 2))
      .reduce((sum, value) => sum + value, 0);
    expect(tied?.estimates[0]?.value).toBeCloseTo(Math.sqrt(drop / 3), 6);
    expect(tied?.gain).toBeCloseTo(drop - 3 * (Math.log(drop / 3) + 1) - Math.log(36) - 2 * Math.log(12 * 24), 6);
  });

  it('is not said of two occupations of a point that agree, nor of two in a row from one mark', () => {
    const names = Array.from({ length: COUNT }, (_, index) => (index === 9 ? 'K5' : `K${String(index)}`));
    const errors = Array.from({ length: COUNT }, (_, index): Error3 =>
      index === 5 || index === 9 ? [0.07, -0.06, 0.02] : [0.003, -0.003, 0.004],
    );
    expect(causesOf(likelyCause(dayOf(errors, names)))).toEqual(['control-coordinate']);
  });

  it('is tied with each of two mistakes that are named together', () => {
    const errors = Array.from({ length: COUNT }, (_, index): Error3 => {
      if (index === 3) return [0.06, 0.06, 0.04];
      return index === 8 ? [-0.3, 0.3, -0.2] : [0.003, -0.003, 0.004];
    });
    const report = likelyCause(dayOf(errors));
    expect(report?.verdict).toBe('two-causes');
    const small = report?.together.find(({ finding }) => finding.subject.startsWith('K3'));
    const large = report?.together.find(({ finding }) => finding.subject.startsWith('K8'));
    expect(small?.alike).toContain('occupation-noise');
    expect(large?.alike).not.toContain('occupation-noise');
  });
});

describe('days of errors with long tails', () => {
  const DAYS = 400;
  /** Wilson's upper 99.9 % limit of 1 in 100 of 400 days. */
  const MOST = 12;

  function accusedOf(
    errorOf: (random: ReturnType<typeof seededRandom>) => Error3,
    seed: number,
  ): readonly [number, number] {
    let accused = 0;
    let left = 0;
    for (let day = 0; day < DAYS; day += 1) {
      const random = seededRandom(seed + day);
      const report = likelyCause(dayOf(Array.from({ length: COUNT }, () => errorOf(random))));
      if (report === null || !['named', 'two-causes'].includes(report.verdict)) continue;
      const groups =
        report.verdict === 'named'
          ? [causesOf(report)]
          : report.together.map(({ finding, alike }): readonly string[] => [finding.cause, ...alike]);
      const isInnocent = groups.every((group) => group.some((cause) => cause.endsWith('noise')));
      if (!isInnocent) accused += 1;
      else if (groups.some((group) => group.includes('occupation-noise'))) left += 1;
    }
    return [accused, left];
  }

  it('accuse nobody in more than a chance of 1 in 100: one factor for each occupation, Student of 4 degrees', () => {
    const [accused, left] = accusedOf((random) => {
      const squares = Array.from({ length: 4 }, () => random.normal() ** 2).reduce((sum, value) => sum + value, 0);
      const factor = Math.SQRT1_2 / Math.sqrt(squares / 4);
      return SIGMAS_M.map((sigma) => sigma * factor * random.normal()) as unknown as Error3;
    }, 41_000);
    expect(accused).toBeLessThanOrEqual(MOST);
    // Without chance beside them these were accusations.
    expect(left).toBeGreaterThan(MOST);
  });

  it('accuse nobody in more than a chance of 1 in 100: one occupation in twenty with three times the error', () => {
    const [accused] = accusedOf((random) => {
      const factor = random.next() < 0.05 ? 3 : 1;
      return SIGMAS_M.map((sigma) => sigma * factor * random.normal()) as unknown as Error3;
    }, 43_000);
    expect(accused).toBeLessThanOrEqual(MOST);
  });
});
