import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { covarianceFromSigmas } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import type { CauseDay, CausePoint } from '../../../../src/core/quality/cause/cause-day.js';
import { likelyCause } from '../../../../src/core/quality/cause/likely-cause.js';
import { seededRandom } from '../../../support/seeded-random.js';

const [PLAN_M, UP_M] = [0.01, 0.02] as const;
const noise = (factor: number): Pick<CausePoint, 'dayNoise'> => ({
  dayNoise: { planM2: (factor ** 2 - 1) * PLAN_M ** 2, upM2: (factor ** 2 - 1) * UP_M ** 2 },
});

interface Wrong {
  /** True noise in stated sigmas. */
  readonly times?: number;
  readonly at?: (index: number) => readonly [number, number, number];
}

/** Twelve control points, each stood on once, an hour apart; nothing is known of their places. */
function dayOf(
  seed: number,
  { times = 1, at = () => [0, 0, 0] }: Wrong,
  own: Pick<CausePoint, 'dayNoise'> = {},
): CauseDay {
  const random = seededRandom(seed);
  const points = Array.from({ length: 12 }, (_, index): CausePoint => {
    const [east, north, up] = at(index);
    return {
      pointId: `K${String(index)}`,
      occupation: '1',
      eastM: east + times * PLAN_M * random.normal(),
      northM: north + times * PLAN_M * random.normal(),
      upM: up + times * UP_M * random.normal(),
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
      middleMs: index * 3_600_000,
      poleLengthM: 2,
      covariance: covarianceFromSigmas(PLAN_M, PLAN_M, UP_M, null),
      controlHorizontalM2: 0,
      controlVerticalM2: 0,
      ...own,
    };
  });
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
    correlationHorizontalS: 600,
    correlationVerticalS: 600,
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

const namedIn = (day: CauseDay): string => {
  const report = likelyCause(day);
  return report?.verdict === 'named' || report?.verdict === 'two-causes'
    ? (report.findings[0]?.cause ?? '')
    : (report?.verdict ?? '');
};
const seeds = (count: number, from: number): readonly number[] => Array.from({ length: count }, (_, i) => from + i);

describe('the noise of the day in the search for a cause', () => {
  it('is what is named where the repeats show it and nothing stands out of it', () => {
    const said = seeds(40, 300).map((seed) => namedIn(dayOf(seed, { times: 3 }, noise(3))));
    expect(said.filter((word) => word === 'noise').length).toBeGreaterThan(37);
    expect(
      said.filter((word) => !['noise', 'no-single-cause', 'nothing-to-explain'].includes(word)).length,
    ).toBeLessThan(2);
    expect(likelyCause(dayOf(300, { times: 3 }, noise(3)))?.findings[0]).toMatchObject({
      subject: 'as the repeats of the day show',
      estimates: [{ name: 'factor_of_standard_deviations', value: expect.closeTo(3, 6) as number }],
    });
  });

  it('does not hide a mistake beyond it', () => {
    const integer = seeds(20, 500).map((seed) =>
      namedIn(dayOf(seed, { times: 3, at: (i) => (i === 5 ? [0.5, -0.3, 0.6] : [0, 0, 0]) }, noise(3))),
    );
    expect(integer.filter((word) => word === 'wrong-integer' || word === 'control-coordinate').length).toBeGreaterThan(
      18,
    );
  });

  it('is not believed where a mistake made the repeats look noisy and explains the residuals far better', () => {
    // A pole 0.3 m longer than logged from noon on is in half of the repeats: they look as if heights were ten times as noisy.
    const pole = seeds(20, 700).map((seed) => namedIn(dayOf(seed, { at: (i) => [0, 0, i >= 6 ? 0.3 : 0] }, noise(10))));
    expect(pole.filter((word) => word === 'pole-length').length).toBe(20);
  });

  it('says nothing on a day that agrees with what is stated', () => {
    expect(likelyCause(dayOf(11, {}, noise(2)))?.verdict).toBe('nothing-to-explain');
  });
});

describe('a day somewhat noisier than stated, whose repeats do not show it', () => {
  it('accuses hardly anybody: a gain is judged by the noise of what is left', () => {
    // Errors 1.5 times those stated: what the accused cause leaves mostly passes for noise, at the upper end.
    const said = seeds(250, 900).map((seed) => namedIn(dayOf(seed, { times: 1.5 })));
    const accused = said.filter((word) => !['noise', 'no-single-cause', 'nothing-to-explain'].includes(word));
    expect(accused.length).toBeLessThanOrEqual(4);
  });
});
