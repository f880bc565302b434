import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimateSignal } from '../../../src/core/heights/estimate-signal.js';
import {
  collocateHeights,
  differenceCovariance,
  timesVarianceFactor,
  withLikelySignals,
} from '../../../src/core/heights/height-surface.js';
import type { Benchmark, HeightSurface, SurfaceModel } from '../../../src/core/heights/height-surface.js';
import { trendRow } from '../../../src/core/heights/height-trend.js';
import type { HeightTrend } from '../../../src/core/heights/height-trend.js';
import { transferHeight } from '../../../src/core/heights/height-transfer.js';
import { leaveOneOut } from '../../../src/core/heights/leave-one-out.js';
import { SIGNAL_KINDS } from '../../../src/core/heights/signal-covariance.js';
import { signalSpread } from '../../../src/core/heights/signal-spread.js';
import { covariancesAt, surfaceAtM, surfaceVarianceM2 } from '../../../src/core/heights/surface-at.js';
import { surfaceTests } from '../../../src/core/heights/surface-residuals.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { denseInverse } from './dense-inverse.js';

const INVENTED: readonly (readonly [number, number, number])[] = [
  [0, 0, 0.052],
  [12, 3, 0.061],
  [25, -4, 0.048],
  [31, 18, 0.083],
  [8, 22, 0.074],
  [18, 11, 0.066],
  [40, 5, 0.058],
  [2, 35, 0.091],
];
const ISAAKS: readonly (readonly [number, number, number])[] = [
  [61, 139, 477],
  [63, 140, 696],
  [64, 129, 227],
  [68, 128, 646],
  [71, 140, 606],
  [73, 141, 791],
  [75, 128, 783],
];
const BASES = ['B1', 'B1', 'B1', 'B1', 'B1', 'B2', 'B2', null];
const FRAME = { origin: { eastM: 0, northM: 0 }, latitudeDeg: -31.5, convergenceDeg: 0.7 };

function benchmarks(
  rows: readonly (readonly [number, number, number])[],
  perUnit: number,
  ownM2: number,
  bases: readonly (string | null)[] = [],
): readonly Benchmark[] {
  return rows.map(([x, y, differenceM], at) => ({
    pointId: `Q${String(at)}`,
    place: { eastM: perUnit * x, northM: perUnit * y },
    differenceM,
    ownM2,
    sharedWith: bases[at] ?? null,
  }));
}

function modelOf(set: string): SurfaceModel {
  if (set === 'isaaks')
    return {
      trend: 'offset',
      frame: FRAME,
      signal: { kind: 'exponential', sigmaM: Math.sqrt(10), lengthM: 1 / 0.3 },
      benchmarks: benchmarks(ISAAKS, 1, 1e-9),
      shared: [],
    };
  const shared = ['B1', 'B2'].map((id) => ({ id, varianceM2: 1e-4 }));
  return {
    trend: set.endsWith('parameter') ? (set as HeightTrend) : 'plane',
    frame: FRAME,
    signal: { kind: set === 'markov' ? 'second-order-markov' : 'exponential', sigmaM: 0.015, lengthM: 20_000 },
    benchmarks: benchmarks(INVENTED, 1000, 6.4e-5, set === 'shared' ? BASES : []),
    shared: set === 'shared' ? shared : [],
  };
}

function surfaceOf(model: SurfaceModel): HeightSurface {
  const surface = collocateHeights(model);
  if (surface === null) throw new Error('not determined');
  return surface;
}

/** The value of a row as we find it. */
function found(set: string, quantity: string, of: string): number {
  if (set.startsWith('likeliest')) {
    const kind = SIGNAL_KINDS.find((word) => set.endsWith(word)) ?? 'exponential';
    const estimated = estimateSignal(sixteen(), kind, { sigmaM: null, lengthM: null });
    if (estimated === null) return NaN;
    const { signal } = estimated;
    if (quantity === 'likely-sigma') {
      const [eastM = NaN, northM = NaN] = of.split(' ').map(Number);
      const plain = surfaceOf({ ...sixteen(), signal });
      const averaged = withLikelySignals(plain, signalSpread(sixteen(), estimated));
      return Math.sqrt(surfaceVarianceM2(averaged, { eastM, northM }));
    }
    return quantity === 'sigma' ? signal.sigmaM : signal.lengthM;
  }
  const surface = surfaceOf(modelOf(set));
  const [at = 0] = of.split(' ').map(Number);
  const left = leaveOneOut(surface)[at];
  switch (quantity) {
    case 'coefficient':
      return surface.coefficients[at] ?? NaN;
    case 'coefficient-sigma':
      return Math.sqrt(surface.cofactor[at * (surface.coefficients.length + 1)] ?? NaN);
    case 'weighted-squares':
      return surface.weightedSquares;
    case 'left-out':
      return left?.errorM ?? NaN;
    case 'left-out-sigma':
      return left?.sigmaM ?? NaN;
    case 'weight': {
      // The value is linear in the data: the change that one unit of a datum makes is its weight.
      const model = modelOf(set);
      const more = model.benchmarks.map((own, i) => (i === at ? { ...own, differenceM: own.differenceM + 1 } : own));
      const place = { eastM: 65, northM: 137 };
      return surfaceAtM(surfaceOf({ ...model, benchmarks: more }), place) - surfaceAtM(surface, place);
    }
    case 'transfer-sigma': {
      const end = (eastM: number) =>
        ({ place: { eastM, northM: 0 }, heightM: 0, trendM: 0, ownM2: 6.4e-5, sharedWith: null }) as const;
      const known = { differenceM: 0, varianceM2: 0 };
      return transferHeight(end(0), end(1000 * at), known, surface, 12).sigmaM;
    }
  }
  const [x = 0, y = 0] = of.split(' ').map(Number);
  const perUnit = set === 'isaaks' ? 1 : 1000;
  const place = { eastM: perUnit * x, northM: perUnit * y };
  if (quantity === 'value') return surfaceAtM(surface, place);
  const variance = surfaceVarianceM2(surface, place, of.split(' ')[2] ?? null);
  return quantity === 'variance' ? variance : Math.sqrt(variance);
}

function sixteen(): Omit<SurfaceModel, 'signal'> {
  const [, ...lines] = readFileSync(new URL('sixteen.csv', import.meta.url), 'utf8')
    .trim()
    .split('\n');
  const rows = lines.map((line) => line.split(',').map(Number) as unknown as readonly [number, number, number]);
  return { trend: 'offset', frame: FRAME, benchmarks: benchmarks(rows, 1, 0.006 ** 2), shared: [] };
}

describe('a surface of heights', () => {
  for (const row of readReferenceTable('height-surface')) {
    it(`${row.case} is as ${row.source} has it`, () => {
      const value = found(row.text('set'), row.text('quantity'), row.text('of'));
      expect(Math.abs(value - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }

  const place = fc.record({
    eastM: fc.double({ min: -4e4, max: 4e4, noNaN: true }),
    northM: fc.double({ min: -4e4, max: 4e4, noNaN: true }),
  });
  const model = fc.record({
    trend: fc.constantFrom<HeightTrend>('offset', 'plane'),
    frame: fc.constant(FRAME),
    signal: fc.record({
      kind: fc.constantFrom(...SIGNAL_KINDS),
      sigmaM: fc.double({ min: 0.001, max: 0.1, noNaN: true }),
      lengthM: fc.double({ min: 1000, max: 60_000, noNaN: true }),
    }),
    benchmarks: fc.array(
      fc.record({
        pointId: fc.constant('Q'),
        place,
        differenceM: fc.double({ min: -0.2, max: 0.2, noNaN: true }),
        ownM2: fc.double({ min: 1e-6, max: 1e-3, noNaN: true }),
        sharedWith: fc.constantFrom('B1', 'B2', null),
      }),
      { minLength: 5, maxLength: 12 },
    ),
    shared: fc.constant(['B1', 'B2'].map((id) => ({ id, varianceM2: 1e-4 }))),
  });

  it('is what the dense inverse of the covariance gives, on any benchmarks', () => {
    fc.assert(
      fc.property(model, place, (one, at) => {
        const surface = collocateHeights(one);
        const n = one.benchmarks.length;
        const inverse = denseInverse(differenceCovariance(one), n);
        if (surface === null || inverse === null) return;
        const rows = one.benchmarks.map((own) => trendRow(one.trend, one.frame, own.place));
        const size = rows[0]!.length;
        const normal = new Float64Array(size * size);
        const right = new Float64Array(size);
        for (let i = 0; i < n; i += 1)
          for (let j = 0; j < n; j += 1)
            for (let k = 0; k < size; k += 1) {
              right[k]! += rows[i]![k]! * inverse[i * n + j]! * one.benchmarks[j]!.differenceM;
              for (let l = 0; l < size; l += 1)
                normal[k * size + l]! += rows[i]![k]! * inverse[i * n + j]! * rows[j]![l]!;
            }
        const cofactor = denseInverse(normal, size);
        if (cofactor === null) return;
        const times = (matrix: Float64Array, m: number, v: ArrayLike<number>): number[] =>
          Array.from({ length: m }, (_, i) => Array.from(v).reduce((sum, x, j) => sum + matrix[i * m + j]! * x, 0));
        const b = times(cofactor, size, right);
        const left = one.benchmarks.map((own, i) => own.differenceM - rows[i]!.reduce((s, x, k) => s + x * b[k]!, 0));
        const c = covariancesAt(surface, at);
        const f = trendRow(one.trend, one.frame, at);
        const weighted = times(inverse, n, left);
        const value = f.reduce((s, x, k) => s + x * b[k]!, 0) + weighted.reduce((s, x, i) => s + x * c[i]!, 0);
        const solved = times(inverse, n, c);
        const g = f.map((x, k) => x - rows.reduce((s, row, i) => s + row[k]! * solved[i]!, 0));
        const spreadOf = times(cofactor, size, g).reduce((s, x, k) => s + x * g[k]!, 0);
        const variance = one.signal.sigmaM ** 2 - solved.reduce((s, x, i) => s + x * c[i]!, 0) + spreadOf;
        // A trend that hangs on two places close together is known to few digits either way.
        const scale = 1 + Math.sqrt(spreadOf) * 1e3;
        expect(Math.abs(surfaceAtM(surface, at) - value)).toBeLessThan(1e-8 * scale);
        expect(Math.abs(surfaceVarianceM2(surface, at) - variance)).toBeLessThan(1e-8 * scale * scale);
      }),
      { numRuns: 200 },
    );
  });

  it('predicts each benchmark as a surface that never saw it does', () => {
    const whole = modelOf('shared');
    const tests = surfaceTests(surfaceOf(whole), 0.01);
    for (const [at, own] of whole.benchmarks.entries()) {
      const rest = surfaceOf({ ...whole, benchmarks: whole.benchmarks.filter((other) => other !== own) });
      const c = covariancesAt(rest, own.place, own.sharedWith);
      const f = trendRow(rest.trend, rest.frame, own.place);
      const value =
        f.reduce((sum, x, k) => sum + x * rest.coefficients[k]!, 0) +
        c.reduce((sum, x, i) => sum + x * rest.weighted[i]!, 0);
      expect(tests[at]!.leftOut).toBeCloseTo(value - own.differenceM, 12);
    }
  });

  it('does not predict a benchmark without which its trend is not determined', () => {
    const corner = benchmarks(
      [
        [0, 0, 0],
        [10, 0, 0],
        [20, 0, 0],
        [5, 9, 0.01],
      ],
      1000,
      1e-4,
    );
    const surface = surfaceOf({ ...modelOf('invented'), benchmarks: corner });
    expect(leaveOneOut(surface)[3]).toBeNull();
    expect(surfaceTests(surface, 0.01)[3]).toMatchObject({ standardised: null, leftOut: null, detectable: null });
    expect(leaveOneOut(surface)[1]).not.toBeNull();
  });

  it('has no answer for fewer benchmarks than its trend has coefficients, or for two of one place without noise', () => {
    const few = modelOf('invented');
    expect(collocateHeights({ ...few, benchmarks: few.benchmarks.slice(0, 2) })).toBeNull();
    const twins = benchmarks(
      [
        [0, 0, 0],
        [0, 0, 0],
        [5, 5, 0],
        [9, 0, 0],
      ],
      1000,
      0,
    );
    expect(collocateHeights({ ...few, benchmarks: twins })).toBeNull();
  });

  it('weighs the signals that its benchmarks leave likely: weights sum to 1, and what was stated stays', () => {
    const estimated = estimateSignal(sixteen(), 'exponential', { sigmaM: null, lengthM: 9000 })!;
    const signals = signalSpread(sixteen(), estimated);
    expect(signals.length).toBeGreaterThan(3);
    expect(signals.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
    for (const { signal } of signals) expect(signal.lengthM).toBeCloseTo(9000, 6);
    const sigmas = signals.map(({ signal }) => signal.sigmaM);
    expect(Math.min(...sigmas)).toBeLessThan(estimated.signal.sigmaM);
    expect(Math.max(...sigmas)).toBeGreaterThan(estimated.signal.sigmaM);
    const whole = estimateSignal(sixteen(), 'exponential', { sigmaM: 0.02, lengthM: 9000 })!;
    expect(signalSpread(sixteen(), whole)).toMatchObject([{ weight: 1 }]);
  });

  it('multiplies the variances of all likely signals by what the residuals say, and one signal alone adds nothing', () => {
    const estimated = estimateSignal(sixteen(), 'exponential', { sigmaM: null, lengthM: null })!;
    const plain = surfaceOf({ ...sixteen(), signal: estimated.signal });
    const at = { eastM: 60_000, northM: 50_000 };
    // With offsets that all signals share, so that the corrections differ by nothing: only the variances count.
    const same = { ...sixteen(), benchmarks: sixteen().benchmarks.map((own) => ({ ...own, differenceM: 0.2 })) };
    const averaged = withLikelySignals(
      surfaceOf({ ...same, signal: estimated.signal }),
      signalSpread(sixteen(), estimated),
    );
    const variance = surfaceVarianceM2(averaged, at);
    expect(surfaceVarianceM2(timesVarianceFactor(averaged, 4), at) / variance).toBeCloseTo(4, 9);
    expect(withLikelySignals(plain, [{ signal: plain.signal, weight: 1 }]).likely).toEqual([]);
    // One that no covariance comes of is left out, and the others sum to 1 again.
    const part = { signal: plain.signal, weight: 0.3 };
    const broken = { signal: { ...plain.signal, sigmaM: NaN }, weight: 0.4 };
    expect(surfaceVarianceM2(withLikelySignals(plain, [part, broken, part]), at)).toBeCloseTo(
      surfaceVarianceM2(plain, at),
      12,
    );
  });

  it('says where the likelihood of a signal still grows at the end of what was searched', () => {
    const flat = sixteen();
    const noise = { ...flat, benchmarks: flat.benchmarks.map((own, i) => ({ ...own, differenceM: 1e-6 * (i % 2) })) };
    expect(estimateSignal(noise, 'exponential', { sigmaM: null, lengthM: null })?.isAtEnd).toBe(true);
    expect(estimateSignal(flat, 'exponential', { sigmaM: null, lengthM: null })?.isAtEnd).toBe(false);
    expect(estimateSignal(flat, 'exponential', { sigmaM: 0.02, lengthM: 9000 })).toMatchObject({
      isAtEnd: false,
      signal: { sigmaM: expect.closeTo(0.02, 12), lengthM: expect.closeTo(9000, 6) },
    });
  });
});
