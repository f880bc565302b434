import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../src/core/geodesy/ellipsoid.js';
import { createGeodesic } from '../../src/core/geodesy/geodesic.js';
import { chiSquareQuantile } from '../../src/core/numeric/chi-square.js';
import { normalCdf } from '../../src/core/numeric/normal-quantile.js';
import { covarianceFromSigmas } from '../../src/core/observation/local-covariance.js';
import { requiredSeparationS } from '../../src/core/observation/repeat-test.js';
import { createPrecisionModel } from '../../src/core/planning/precision-model.js';
import { oddOccupation } from '../../src/core/quality/repeat-cause.js';
import { splitCovariance } from '../../src/core/quality/split-covariance.js';
import type { PointRow } from '../../src/records/point-row.js';
import { checkRepeats } from '../../src/tasks/check-tolerances-repeats.js';
import type { CheckSetup } from '../../src/tasks/check-tolerances-setup.js';
import { readReferenceTable } from '../support/read-reference-table.js';
import { seededRandom } from '../support/seeded-random.js';
import type { SeededRandom } from '../support/seeded-random.js';

const precision = createPrecisionModel({ conditions: 'normal', horizontal: null, vertical: null, combine: 'rss', correlationHorizontalS: null, correlationVerticalS: null });
const SETUP: CheckSetup = {
  axes: { first: 'easting', second: 'northing', sign: 1, metresPerUnit: 1 }, grid: null, ellipsoid: GRS80, geodesic: createGeodesic(GRS80), geoid: null,
  geoidSigmaM: null, epochYear: null, bases: [], precision, phaseCentreOffsetsM: [], otherZones: [], controlRules: [], repeatRules: [], designRules: [],
};
const SIGMA = { h: 0.018, v: 0.035 };
const BASELINE_M = 25_000;
const APART_S = 7200;

function row(occupation: string, place: readonly [number, number, number], startS: number, own: Partial<PointRow> = {}): PointRow {
  return {
    pointId: 'P', occupation, code: '', gridFirst: place[0], gridSecond: place[1], latitudeDeg: null, longitudeDeg: null, ellipsoidalHeightM: null,
    orthometricHeightM: place[2], geoidHeightM: null, baseId: 'B1', baselineM: BASELINE_M, baselineAzimuthDeg: 0, baselineHeightDifferenceM: 0,
    firstEpochMs: startS * 1000, lastEpochMs: (startS + 60) * 1000, sigmaEastM: SIGMA.h, sigmaNorthM: SIGMA.h, sigmaUpM: SIGMA.v, correlationEn: null,
    sigmaHorizontalM: null, sigmaVerticalM: null, combinedFactor: null, poleLengthM: null, tiltDeg: null, toleranceHorizontalM: null, toleranceVerticalM: null,
    role: null, source: '', verdict: 'accepted', reasons: '', passThrough: [], place: { sourceIndex: 0, line: 0 }, ...own,
  };
}

/** Errors of two occupations, built from the parts that the file's totals are split into. */
function pairOfErrors(random: SeededRandom): readonly (readonly [number, number, number])[] {
  const parts = splitCovariance(covarianceFromSigmas(SIGMA.h, SIGMA.h, SIGMA.v, null), { distanceM: BASELINE_M, heightDifferenceM: 0 }, precision, { mark: { horizontalM: 0, verticalM: 0 }, setup: { horizontalM: 0, verticalM: 0 } });
  const { correlationHorizontalS, correlationVerticalS } = precision.at(BASELINE_M, null);
  const axis = (independentM2: number, slowM2: number, tauS: number): readonly [number, number] => {
    const rho = Math.exp(-APART_S / tauS);
    const a = random.normal();
    const b = rho * a + Math.sqrt(1 - rho * rho) * random.normal();
    return [Math.sqrt(slowM2) * a + Math.sqrt(independentM2) * random.normal(), Math.sqrt(slowM2) * b + Math.sqrt(independentM2) * random.normal()];
  };
  const { independent: i, correlated: c, baseline: g } = parts;
  const e = axis(i.eeM2, c.eeM2 + g.eeM2, correlationHorizontalS);
  const n = axis(i.nnM2, c.nnM2 + g.nnM2, correlationHorizontalS);
  const u = axis(i.uuM2, c.uuM2 + g.uuM2, correlationVerticalS);
  return [[e[0], n[0], u[0]], [e[1], n[1], u[1]]];
}

function check(points: readonly PointRow[], samePlaceM: number | null = null, setup = SETUP): ReturnType<typeof checkRepeats> {
  return checkRepeats(points, samePlaceM, 'points.csv', setup);
}

describe('checkRepeats', () => {
  it.each(readReferenceTable('repeats').map((entry) => [entry.case, entry] as const))('asks %s', (_, entry) => {
    const input = entry.number('input');
    const found = entry.text('quantity') === 'chi_square_95' ? chiSquareQuantile(0.95, input) : requiredSeparationS(input);
    expect(Math.abs(found - entry.number('expected'))).toBeLessThanOrEqual(entry.tolerance);
  });

  it('raises a false alarm in 9.75 % of 2,000 true repeats, and detects a slip in height as often as the normal distribution says', () => {
    const random = seededRandom(2024);
    const slipM = 0.12;
    let alarms = 0;
    let found = 0;
    let sigmaM = 0;
    for (let run = 0; run < 2000; run += 1) {
      const [a = [0, 0, 0], b = [0, 0, 0]] = pairOfErrors(random);
      const clean = check([row('1', a, 0), row('2', b, APART_S)]);
      const slipped = check([row('1', a, 0), row('2', [b[0], b[1], b[2] + slipM], APART_S)]);
      if (!clean.ok || !slipped.ok) throw new Error('no comparison');
      if (clean.value.rows[0]?.verdict === 'exceeds') alarms += 1;
      sigmaM = Math.sqrt(clean.value.rows[0]?.covariance?.uuM2 ?? 0);
      if ((slipped.value.rows[0]?.verticalStatistic ?? 0) > 1.959964) found += 1;
    }
    const expected = normalCdf(slipM / sigmaM - 1.959964) + normalCdf(-slipM / sigmaM - 1.959964);
    expect(Math.abs(alarms / 2000 - (1 - 0.95 ** 2))).toBeLessThan(4 * Math.sqrt((0.0975 * 0.9025) / 2000));
    expect(Math.abs(found / 2000 - expected)).toBeLessThan(4 * Math.sqrt((expected * (1 - expected)) / 2000));
  });

  it('names a pole length where height alone disagrees, and a wrong integer where plan does', () => {
    const causes = [[0, 0, 0.2], [0.1, -0.06, 0.09], [4, 0, 0]].map((place) => {
      const result = check([row('1', [0, 0, 0], 0), row('2', place as [number, number, number], APART_S)]);
      return result.ok ? result.value.groups[0]?.cause?.cause : null;
    });
    expect(causes).toEqual(['pole-length', 'wrong-integer', 'misidentified']);
  });

  it('names the occupation that stands alone of three', () => {
    const result = check([row('1', [0, 0, 0], 0), row('2', [0.12, 0, 0], APART_S), row('3', [0.002, 0, 0], 2 * APART_S)]);
    expect(result.ok && result.value.groups[0]).toMatchObject({ odd: '2', chiSquare: null });
    expect(oddOccupation(2, [[0, 1]])).toBeNull();
    expect(oddOccupation(3, [[0, 1], [0, 2], [1, 2]])).toBeNull();
  });

  it('does not count agreement of occupations too close in time, and says so', () => {
    const result = check([row('1', [0, 0, 0], 0), row('2', [0.001, 0, 0], 600)]);
    expect(result.ok && result.value.rows[0]).toMatchObject({ verdict: 'not-stated', reasons: ['check-repeat-too-soon'], separationS: 540 });
  });

  it('lets a stated limit decide where there is one', () => {
    const setup = { ...SETUP, repeatRules: [{ name: 'l', axis: 'up', probability: null, combine: 'linear', constantM: 0.5, ppm: 0, distanceOffsetM: 0, perRootKmM: 0, floorM: null, capM: null }] as const };
    const result = check([row('1', [0, 0, 0], 0), row('2', [0, 0, 0.2], APART_S)], null, setup);
    expect(result.ok && result.value.rows[0]).toMatchObject({ verdict: 'within', reasons: ['check-repeat-noise'] });
  });

  it('gives the misclosure of one point from two bases, with three degrees of freedom', () => {
    const result = check([row('1', [0, 0, 0], 0), row('2', [0.03, 0, 0.04], APART_S, { baseId: 'B2' })]);
    if (!result.ok) throw new Error('no comparison');
    expect(result.value.rows[0]?.check).toBe('base-pair');
    const [misclosure] = result.value.misclosures;
    expect(misclosure).toMatchObject({ bases: ['B1', 'B2'], difference: { eastM: 0.03, northM: 0, upM: 0.04 }, distanceM: BASELINE_M });
    expect(misclosure?.chiSquare).toBeCloseTo((result.value.rows[0]?.horizontalStatistic ?? 0) + (result.value.rows[0]?.verticalStatistic ?? 0) ** 2, 9);
  });

  it('joins by place, and refuses two names at one place and one name at two', () => {
    const joined = check([row('1', [0, 0, 0], 0), row('2', [0.3, 0, 0], APART_S)], 0.5);
    expect(joined.ok && joined.value.groups).toHaveLength(1);
    const names = check([row('1', [0, 0, 0], 0), row('2', [0.3, 0, 0], APART_S, { pointId: 'Q' })], 0.5);
    const places = check([row('1', [0, 0, 0], 0), row('2', [9, 0, 0], APART_S), row('3', [0, 0, 0], 2 * APART_S)], 0.5);
    for (const outcome of [names, places]) expect([...new Set(outcome.problems.map(({ code }) => code))]).toEqual(['check-place-conflict']);
  });

  it('refuses a file without any repeat', () => {
    expect(check([row('1', [0, 0, 0], 0)]).problems.map(({ code }) => code)).toEqual(['check-nothing-in-common']);
  });
});
