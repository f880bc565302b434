import { describe, expect, it } from 'vitest';
import { adjustNetwork } from '../../../src/core/network/adjust-network.js';
import type { AdjustedNetwork, NetworkChoice } from '../../../src/core/network/adjust-network.js';
import {
  DISTORTION_KINDS,
  distortionCandidates,
  withDistortions,
} from '../../../src/core/network/distortions/distortion.js';
import type { DistortionSearch } from '../../../src/core/network/distortions/distortion.js';
import { distortionEvidence } from '../../../src/core/network/distortions/distortion-evidence.js';
import { networkStations } from '../../../src/core/network/stations/network-stations.js';
import type { Network, VectorObservation } from '../../../src/core/network/network.js';
import { solveNetwork } from '../../../src/core/network/solve-network.js';
import { networkDistortions } from '../../../src/tasks/network/judge-distortions.js';
import { distortedNetwork } from './made-network.js';
import { at } from './vectors-by-hand.js';

const ALL: DistortionSearch = { kinds: DISTORTION_KINDS, by: 'base' };
const PLAIN: NetworkChoice = { datum: 'control', excludesOutliers: false, estimatesVariance: false };

function adjusted(network: Network, more: Partial<NetworkChoice> = {}): AdjustedNetwork {
  const outcome = adjustNetwork(network, { ...PLAIN, distortions: ALL, ...more });
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

const kept = (network: AdjustedNetwork): readonly string[] =>
  networkDistortions(network).flatMap(({ name, answer }) => (answer === 'kept' ? [name] : []));

function found(network: AdjustedNetwork, name: string): ReturnType<typeof networkDistortions>[number] {
  const own = networkDistortions(network).find((one) => one.name === name);
  if (own === undefined) throw new Error(`no ${name}`);
  return own;
}

const grown = (vector: VectorObservation, by: number): VectorObservation => {
  const { xM, yM, zM } = vector.difference;
  return { ...vector, difference: at(xM * (1 + by), yM * (1 + by), zM * (1 + by)) };
};

/** Points of one base, and control on five of them: only the control can say what the base does to them. */
function oneBase(scale: number, wrong: Readonly<Record<number, number>> = {}): Network {
  const network = distortedNetwork({});
  const seen = new Map<string, VectorObservation>();
  for (const vector of network.vectors) if (vector.fromId === 'B1') seen.set(vector.toId, vector);
  const vectors = [...seen.values()];
  const [base] = network.control;
  const { xM, yM, zM } = base!.position!;
  return {
    ...network,
    vectors: vectors.map((vector) => grown(vector, scale)),
    control: [
      { ...base!, held: 'fixed', covariance: null },
      ...[0, 7, 14, 21, 28].map((k, nth) => {
        const { toId, difference } = vectors[k]!;
        return {
          ...base!,
          id: toId,
          position: at(xM + difference.xM, yM + difference.yM + (wrong[nth] ?? 0), zM + difference.zM),
        };
      }),
    ],
  };
}

describe('distortions of a base or a day', () => {
  it('the evidence of each equals what the adjustment with it among its unknowns finds', () => {
    const network = distortedNetwork({ B2: 1, B3: 1, B4: 20 });
    const stations = networkStations(network, true);
    if ('loose' in stations) throw new Error('loose');
    const control = network.control.map((point, index) => ({ point, index }));
    const outcome = solveNetwork(network, stations, { control, leftOut: { has: () => false } });
    if (!outcome.ok) throw new Error(outcome.undetermined);
    const candidates = distortionCandidates(network, ALL);
    expect(candidates).toHaveLength(20);
    for (const candidate of candidates) {
      const evidence = distortionEvidence(outcome.solved, candidate, network.ellipsoid)!;
      const prior = network.shared.length;
      const whole = solveNetwork(withDistortions(network, [candidate]), stations, {
        control,
        leftOut: { has: (kind, index) => kind === 'shared' && index === prior },
      });
      if (!whole.ok) throw new Error(whole.undetermined);
      const { solution, built } = whole.solved;
      const value = solution.unknowns[solution.equations.starts[built.sharedBlock(prior)]!]!;
      // The last turn is about the solution's own places: they differ by centimetres in kilometres.
      expect(Math.abs(value - evidence.valuePpm)).toBeLessThan(1e-3 * evidence.sigmaPpm);
      const lost = outcome.solved.solution.weightedSquares - solution.weightedSquares;
      expect(Math.abs(lost - evidence.test)).toBeLessThan(1e-3 * (1 + evidence.test));
      expect(outcome.solved.solution.degreesOfFreedom - solution.degreesOfFreedom).toBe(1);
    }
  });

  it('keeps what is planted and nothing else, and its vectors are no longer at fault', () => {
    const bent = distortedNetwork();
    const without = adjustNetwork(bent, PLAIN);
    if (!without.ok) throw new Error('not adjusted');
    expect(without.value.finalTest.answer).toBe('too-large');
    const whole = adjusted(bent);
    expect(kept(whole)).toEqual(['scale of base B2', 'turn about up of base B3', 'zenith delay of base B4']);
    expect(whole.finalTest.answer).toBe('within');
    expect(whole.finalTest.degreesOfFreedom).toBe(without.value.finalTest.degreesOfFreedom - 3);
    for (const [name, planted] of [
      ['scale of base B2', 3],
      ['turn about up of base B3', -2],
      ['zenith delay of base B4', 500],
    ] as const) {
      const { valuePpm, sigmaPpm } = found(whole, name);
      expect(Math.abs(valuePpm! - planted)).toBeLessThan(3 * sigmaPpm!);
    }
  });

  it('keeps nothing where nothing is planted, and the adjustment is that without a search', () => {
    const plain = adjustNetwork(distortedNetwork({}), PLAIN);
    const whole = adjusted(distortedNetwork({}));
    expect(kept(whole)).toEqual([]);
    expect(plain.ok && plain.value.finalTest).toEqual(whole.finalTest);
  });

  it('of one base only control can say, and the free network is tested as if there were none', () => {
    const whole = adjusted(oneBase(8e-6));
    expect(kept(whole)).toEqual(['scale of base B1']);
    const { valuePpm, sigmaPpm } = found(whole, 'scale of base B1');
    expect(Math.abs(valuePpm! - 8)).toBeLessThan(3 * sigmaPpm!);
    const plain = adjusted(oneBase(0));
    expect(kept(plain)).toEqual([]);
    expect(whole.freeTest.degreesOfFreedom).toBe(plain.freeTest.degreesOfFreedom);
    expect(whole.freeTest.weightedSquares).toBeCloseTo(plain.freeTest.weightedSquares, 6);
    expect(whole.finalTest.degreesOfFreedom).toBe(plain.finalTest.degreesOfFreedom - 1);
    // Places of the control are those of the vectors themselves here, so that the sum of squares is too small, as without a scale.
    expect(whole.finalTest.answer).toBe('too-small');
    // What the scale takes up no longer speaks against the control.
    expect(
      whole.controlPoints.every(({ test, checkedDirections }) => test <= whole.controlLimit(checkedDirections)!),
    ).toBe(true);
  });

  it('a base without control or a second view says nothing of its own distortions', () => {
    const { control, ...rest } = oneBase(8e-6);
    const alone = adjusted({ ...rest, control: control.slice(0, 1) });
    expect(networkDistortions(alone).map(({ answer, test }) => [answer, test])).toEqual(
      DISTORTION_KINDS.map(() => ['undetermined', null]),
    );
  });

  it('what one control point alone asks for is not kept, and it is named', () => {
    const network = oneBase(0, { 2: 0.4 });
    const whole = adjusted(network);
    expect(kept(whole)).toEqual([]);
    const alone = networkDistortions(whole).filter(({ answer }) => answer === 'one-alone');
    expect(alone.length).toBeGreaterThan(0);
    // One vector leads to that control: that it is the vector which is wrong would look the same.
    expect(new Set(alone.map(({ hangsOn }) => hangsOn!.split(' ').at(-1)))).toEqual(new Set([network.control[3]!.id]));
  });

  it('nor what one vector alone asks for', () => {
    const bent = distortedNetwork({});
    const far = bent.vectors.findIndex(
      ({ fromId, toId }) => fromId === 'B4' && bent.vectors.filter((one) => one.toId === toId).length === 3,
    );
    const { fromId, toId } = bent.vectors[far]!;
    const whole = adjusted({
      ...bent,
      vectors: bent.vectors.map((vector, k) => (k === far ? grown(vector, 1e-4) : vector)),
    });
    expect(kept(whole)).toEqual([]);
    expect(
      networkDistortions(whole)
        .filter(({ answer }) => answer === 'one-alone')
        .map(({ hangsOn }) => hangsOn),
    ).toContain(`vector ${fromId} to ${toId}`);
  });

  it('with outliers left out a blunder no longer hides a scale', () => {
    const bent = distortedNetwork({ B2: 3 });
    const foul = bent.vectors.findIndex(({ toId }) => bent.vectors.filter((one) => one.toId === toId).length === 3);
    const vectors = bent.vectors.map((vector, k) =>
      k === foul ? { ...vector, difference: { ...vector.difference, yM: vector.difference.yM + 0.5 } } : vector,
    );
    const whole = adjusted({ ...bent, vectors }, { excludesOutliers: true });
    expect(whole.excluded.map(({ kind, index }) => [kind, index])).toEqual([['vector', foul]]);
    expect(kept(whole)).toEqual(['scale of base B2']);
  });

  it('looks at the vectors of a day, wherever they start, and at none of fewer than three', () => {
    const bent = distortedNetwork({});
    const dayOf = ({ shared }: VectorObservation): string => shared[0]!.error.slice(-1);
    const vectors = bent.vectors.map((vector) =>
      dayOf(vector) === '2' ? { ...grown(vector, 4e-6), day: '2' } : { ...vector, day: dayOf(vector) },
    );
    const whole = adjusted({ ...bent, vectors }, { distortions: { kinds: ['scale', 'turn-up'], by: 'day' } });
    expect(networkDistortions(whole)).toHaveLength(10);
    expect(kept(whole)).toEqual(['scale of day 2']);
    const few = vectors.map((vector, k) => ({ ...vector, day: k < 2 ? 'few' : '' }));
    expect(distortionCandidates({ ...bent, vectors: few }, { kinds: DISTORTION_KINDS, by: 'day' })).toEqual([]);
  });

  it('says where a distortion and the height of its base can hardly be told apart', () => {
    // All points lie 300 to 700 m above a base whose own height is known to a metre: most of a share of that is a shift.
    const network = oneBase(0);
    const [base, ...others] = network.control;
    const up = 300;
    const raised = (place: {
      readonly xM: number;
      readonly yM: number;
      readonly zM: number;
    }): ReturnType<typeof at> => {
      const length = Math.hypot(place.xM, place.yM, place.zM);
      return at(place.xM * (1 + up / length), place.yM * (1 + up / length), place.zM * (1 + up / length));
    };
    const from = base!.position!;
    const vectors = network.vectors.map((vector): VectorObservation => {
      const to = raised(
        at(from.xM + vector.difference.xM, from.yM + vector.difference.yM, from.zM + vector.difference.zM),
      );
      // So much of the rise, along what is up to a sixth of a degree.
      const length = Math.hypot(to.xM, to.yM, to.zM);
      const bent = 1 + (800e-6 * (length - Math.hypot(from.xM, from.yM, from.zM))) / length;
      return {
        ...vector,
        shared: [],
        difference: at(to.xM * bent - from.xM, to.yM * bent - from.yM, to.zM * bent - from.zM),
      };
    });
    const wide = { xx: 1, xy: 0, xz: 0, yy: 1e-4, yz: 0, zz: 1e-4 };
    const whole = adjusted(
      {
        ...network,
        vectors,
        shared: [],
        control: [
          { ...base!, held: 'weighted', covariance: wide },
          ...others.map((point) => ({ ...point, position: raised(point.position!) })),
        ],
      },
      { distortions: { kinds: ['zenith-delay'], by: 'base' } },
    );
    expect(kept(whole)).toEqual(['zenith delay of base B1']);
    const { alike } = found(whole, 'zenith delay of base B1');
    expect(alike?.stationId).toBe('B1');
    expect(Math.abs(alike!.correlation)).toBeGreaterThan(0.9);
    expect(
      networkDistortions(adjusted(distortedNetwork()))
        .map(({ alike: other }) => other)
        .filter((other) => other !== null),
    ).toEqual([]);
  });
});
