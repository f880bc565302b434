import { describe, expect, it } from 'vitest';
import { expectedScatter } from '../../../src/core/observation/averaging/expected-scatter.js';
import { robustAverage } from '../../../src/core/observation/averaging/robust-average.js';
import type { ProblemCode } from '../../../src/records/codes/problem-codes.js';
import { testOccupation, testReasons } from '../../../src/tasks/reduce/occupations/occupation-tests.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';
import { seededRandom } from '../../support/seeded-random.js';
import type { SeededRandom } from '../../support/seeded-random.js';

// How often the decisions about a stand are wrong, and how often they find a blunder. The errors drawn here are not those
// that the rules assume: the slow part is a sum of sinusoids of random frequency and phase, or of slow and quick processes,
// rounded to what receivers write. Levels: src/core/quality/decision-levels.ts. Bounds: three standard deviations of a
// count above 1 in 100.
const model = NORMAL_PRECISION;
const COUNTS = [2, 3, 4, 5, 6, 7, 9, 12, 20, 60, 200];

/** `constantM`: the part of `sigmaM` that does not grow with the baseline, and may be quick. */
type Noise = (
  random: SeededRandom,
  count: number,
  sigmaM: number,
  correlationS: number,
  constantM: number,
) => Float64Array;

const white =
  (factor: number): Noise =>
  (random, count, sigmaM) =>
    Float64Array.from({ length: count }, () => factor * sigmaM * random.normal());

const whiteConstant =
  (factor: number): Noise =>
  (random, count, _, __, constantM) =>
    Float64Array.from({ length: count }, () => factor * constantM * random.normal());

/** Student's of four degrees of freedom, of the variance of the model's constant part. */
const longTailed: Noise = (random, count, _, __, constantM) => {
  const student = (): number =>
    (random.normal() * 2) / Math.hypot(random.normal(), random.normal(), random.normal(), random.normal());
  return Float64Array.from({ length: count }, () => constantM * Math.SQRT1_2 * student());
};

/** Twelve sinusoids whose frequencies follow the spectrum of an exponential correlation, so that its correlation is about exp(−t/τ). */
const slow =
  (factor: number): Noise =>
  (random, count, sigmaM, correlationS) => {
    const waves = Array.from({ length: 12 }, () => ({
      rate: Math.tan(Math.PI * (random.next() - 0.5)) / (factor * correlationS),
      phase: 2 * Math.PI * random.next(),
    }));
    return Float64Array.from(
      { length: count },
      (_, i) =>
        sigmaM * Math.sqrt(2 / 12) * waves.reduce((sum, { rate, phase }) => sum + Math.cos(rate * i + phase), 0),
    );
  };

const quick =
  (seconds: number): Noise =>
  (random, count, sigmaM) => {
    const keeps = Math.exp(-1 / seconds);
    let last = random.normal();
    return Float64Array.from({ length: count }, (_, i) => {
      if (i > 0) last = keeps * last + Math.sqrt(1 - keeps * keeps) * random.normal();
      return sigmaM * last;
    });
  };

const sum =
  (...parts: readonly (readonly [number, Noise])[]): Noise =>
  (random, count, sigmaM, correlationS, constantM) => {
    const all = parts.map(([share, noise]) => noise(random, count, share * sigmaM, correlationS, share * constantM));
    return Float64Array.from({ length: count }, (_, i) => all.reduce((total, values) => total + (values[i] ?? 0), 0));
  };

const rounded =
  (stepM: number, noise: Noise): Noise =>
  (...world) =>
    noise(...world).map((value) => Math.round(value / stepM) * stepM);

const WORLDS: Readonly<Record<string, Noise>> = {
  'white, a third of the model': white(1 / 3),
  'white, as the model': white(1),
  'white, half as much again as what does not grow': whiteConstant(1.5),
  'slow, the time of the model': slow(1),
  'slow, a third of it': slow(1 / 3),
  'slow, three times it': slow(3),
  'slow and white': sum([1, slow(1)], [0.5, white(1)]),
  'slow, a third, and as much white': sum([1, slow(1 / 3)], [1, white(1)]),
  'quick, of five seconds, and slow': sum([0.5, quick(5)], [0.8, slow(1)]),
  'of three and twenty seconds and slow': sum([0.4, quick(3)], [0.4, quick(20)], [0.8, slow(1)]),
  'to a millimetre': rounded(0.001, sum([0.1, white(1)], [0.3, slow(1)])),
  'to a tenth of a millimetre': rounded(0.0001, white(0.02)),
};

interface Judged {
  readonly screened: number;
  readonly reasons: readonly ProblemCode[];
}

function judge(
  random: SeededRandom,
  noise: Noise,
  count: number,
  baselineM: number,
  plant: (axis: number, values: Float64Array) => void = () => undefined,
): Judged {
  const prediction = model.at(baselineM, 0);
  const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = prediction;
  const [east, north, up] = [0, 1, 2].map((axis) => {
    const values =
      axis < 2
        ? noise(random, count, horizontal.totalM, correlationHorizontalS, horizontal.constantM)
        : noise(random, count, vertical.totalM, correlationVerticalS, vertical.constantM);
    plant(axis, values);
    return values;
  }) as [Float64Array, Float64Array, Float64Array];
  const expected = expectedScatter({
    prediction,
    spanS: count - 1,
    pole: null,
    reportedHorizontalM: null,
    reportedVerticalM: null,
  });
  const average = robustAverage(east, north, up, expected);
  const timesS = Float64Array.from({ length: count }, (_, i) => i);
  return {
    screened: average.outlierCount,
    reasons: testReasons(testOccupation({ timesS, east, north, up, expected, average }, prediction)),
  };
}

describe('a clean stand', () => {
  const RUNS = 200;
  const most = Math.ceil(RUNS * 0.01 + 3 * Math.sqrt(RUNS * 0.01));
  for (const [index, [name, noise]] of Object.entries(WORLDS).entries()) {
    it(`loses an epoch, or goes for review, in fewer than 1 in 100 of any count: ${name}`, () => {
      const random = seededRandom(7100 + index);
      let lost = 0;
      let doubted = 0;
      for (const count of COUNTS) {
        let lostHere = 0;
        let doubtedHere = 0;
        for (let run = 0; run < RUNS; run += 1) {
          const { screened, reasons } = judge(random, noise, count, run % 2 === 0 ? 5000 : 25_000);
          if (screened > 0) lostHere += 1;
          if (reasons.length > 0) doubtedHere += 1;
        }
        expect([count, lostHere], 'lost').toEqual([count, Math.min(lostHere, most)]);
        expect([count, doubtedHere], 'doubted').toEqual([count, Math.min(doubtedHere, most)]);
        lost += lostHere;
        doubted += doubtedHere;
      }
      expect(lost / (RUNS * COUNTS.length)).toBeLessThan(0.01);
      expect(doubted / (RUNS * COUNTS.length)).toBeLessThan(0.01);
    });
  }
});

describe('a clean stand of long-tailed noise', () => {
  it('goes for review in fewer than 2 in 100 of any count, though it loses its tails', () => {
    const random = seededRandom(7190);
    for (const count of COUNTS) {
      let doubted = 0;
      for (let run = 0; run < 400; run += 1)
        if (judge(random, longTailed, count, run % 2 === 0 ? 5000 : 25_000).reasons.length > 0) doubted += 1;
      expect([count, doubted]).toEqual([count, Math.min(doubted, 16)]);
    }
  });
});

describe('a blunder in one epoch of a stand on 5 km', () => {
  const noise = sum([1, slow(1)], [0.5, white(1)]);
  /** Share of stands that lose an epoch or are doubted. */
  const found = (seed: number, count: number, axis: number, sizeM: number): number => {
    const random = seededRandom(seed);
    let sum = 0;
    for (let run = 0; run < 100; run += 1) {
      const wrong = random.index(count);
      const { screened, reasons } = judge(random, noise, count, 5000, (at, values) => {
        if (at === axis) values[wrong] = (values[wrong] ?? 0) + sizeM;
      });
      if (screened > 0 || reasons.length > 0) sum += 1;
    }
    return sum / 100;
  };

  it('of 0.1 m is found on any axis from two epochs on', () => {
    for (const count of [2, 3, 5, 12, 60, 200])
      for (const axis of [0, 2]) expect([count, axis, found(81, count, axis, 0.1) >= 0.9]).toEqual([count, axis, true]);
  });

  it('of 0.07 m in plan is found in nine of ten', () => {
    for (const count of [2, 3, 5, 12, 60]) expect([count, found(84, count, 0, 0.07) >= 0.9]).toEqual([count, true]);
  });

  it('of 0.2 m is always found, on any axis', () => {
    for (const count of [2, 3, 4, 5, 9, 12, 60])
      for (const axis of [0, 1, 2])
        expect([count, axis, found(83, count, axis, 0.2) >= 0.99]).toEqual([count, axis, true]);
  });
});
