import { describe, expect, it } from 'vitest';
import { adjustNetwork } from '../../../../src/core/network/adjust-network.js';
import { createPrecisionModel } from '../../../../src/core/planning/precision-model.js';
import { defaultSession } from '../../../../src/io/settings/session-read.js';
import { ZERO_COVARIANCE } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { withSlowErrors } from '../../../../src/tasks/network/input/slow-errors.js';
import type { OccupationVector } from '../../../../src/tasks/network/input/slow-errors.js';
import { at, EMPTY, fixed } from '../../../core/network/vectors-by-hand.js';

const precision = createPrecisionModel(defaultSession().precision);
const MM2 = 1e-6;

function occupation(
  toId: string,
  minutes: number | null,
  own: { readonly independent?: number; readonly constant?: number; readonly growing?: number; readonly mark?: string },
): OccupationVector {
  const diagonal = (mm2: number): OccupationVector['constant'] => ({
    ...ZERO_COVARIANCE,
    eeM2: mm2 * MM2,
    nnM2: mm2 * MM2,
    uuM2: 4 * mm2 * MM2,
  });
  return {
    vector: { fromId: 'B', toId, difference: at(3000, 4000, 100), shared: [] },
    independent: diagonal(own.independent ?? 4),
    correlation: 0,
    constant: diagonal(own.constant ?? 36),
    growing: diagonal(own.growing ?? 0),
    markKey: own.mark ?? 'mark 0',
    baselineM: 5000,
    middleMs: minutes === null ? null : minutes * 60_000,
    precision,
  };
}

/** The covariance of east of each pair, as own and shared parts give it, mm². */
function eastCovariance(list: readonly OccupationVector[]): readonly (readonly number[])[] {
  const { vectors } = withSlowErrors(list);
  const parts = vectors.map((vector) => ({
    own: 'local' in vector.covariance ? vector.covariance.local.eeM2 : NaN,
    by: new Map(vector.shared.map(({ error, factors }) => [error, factors?.[0] ?? NaN])),
  }));
  return parts.map((a, i) =>
    parts.map((b, j) => {
      let sum = i === j ? a.own : 0;
      for (const [error, factor] of a.by) sum += factor * (b.by.get(error) ?? 0);
      return sum / MM2;
    }),
  );
}

describe('slow errors of repeats', () => {
  it('are those of the full covariance: σᵢσⱼ exp(−D/τ), in the order of the input whatever the order of time', () => {
    const list = [
      occupation('P', 4, { constant: 36 }),
      occupation('P', 0, { constant: 49 }),
      occupation('P', 1.5, { constant: 25, mark: 'mark 1' }),
      occupation('Q', 1, {}),
    ];
    const tau = precision.at(5000, null).correlationHorizontalS;
    const found = eastCovariance(list);
    const minutes = [4, 0, 1.5];
    const sigma = [6, 7, 5];
    for (let i = 0; i < 3; i += 1)
      for (let j = 0; j < 3; j += 1) {
        const slow = sigma[i]! * sigma[j]! * Math.exp((-60 * Math.abs(minutes[i]! - minutes[j]!)) / tau);
        expect(found[i]![j]).toBeCloseTo(slow + (i === j ? 4 : 0), 9);
      }
    expect(found[3]![3]).toBeCloseTo(40, 9);
    expect(found[3]!.slice(0, 3)).toEqual([0, 0, 0]);
  });

  it('that grow with the baseline are shared from one mark only', () => {
    const pair = (mark: string): number =>
      eastCovariance([
        occupation('P', 0, { constant: 0, growing: 16 }),
        occupation('P', 1, { constant: 0, growing: 16, mark }),
      ])[0]![1]!;
    const tau = precision.at(5000, null).correlationHorizontalS;
    expect(pair('mark 0')).toBeCloseTo(16 * Math.exp(-60 / tau), 9);
    expect(pair('mark 1')).toBe(0);
  });

  it('are their own where times are far apart or not stated, and make no unknown', () => {
    for (const list of [
      [occupation('P', 0, {}), occupation('P', 120, {})],
      [occupation('P', 0, {}), occupation('P', null, {})],
    ])
      expect(withSlowErrors(list).shared).toEqual([]);
  });

  it('keep a second look minutes later from counting as a new one', () => {
    const sigmaOf = (minutes: number): number => {
      const made = withSlowErrors([occupation('P', 0, {}), occupation('P', minutes, {})]);
      const outcome = adjustNetwork(
        {
          ...EMPTY,
          vectors: made.vectors,
          shared: made.shared,
          control: [fixed('B', at(5_000_000, 2_000_000, -3_400_000))],
        },
        { datum: 'control', excludesOutliers: false, estimatesVariance: false },
      );
      if (!outcome.ok) throw new Error('not adjusted');
      const { solved, cofactors } = outcome.value.final;
      const q = new Float64Array(9);
      const station = solved.list.indexOf.get('P')!;
      cofactors.ofBlocks(station, station, q);
      return Math.sqrt((q[0]! + q[4]! + q[8]!) / MM2);
    };
    // The trace does not depend on the axes: (4 + 36) mm² in plan twice, four times that in height; of two, half is left of what is new.
    const trace = 6;
    expect(sigmaOf(600)).toBeCloseTo(Math.sqrt((trace * 40) / 2), 4);
    const times = precision.at(5000, null);
    const [h, v] = [times.correlationHorizontalS, times.correlationVerticalS].map((tau) => Math.exp(-60 / tau));
    const left = (rho: number): number => (4 + 36 * (1 + rho)) / 2;
    expect(sigmaOf(1)).toBeCloseTo(Math.sqrt(2 * left(h!) + 4 * left(v!)), 6);
  });
});
