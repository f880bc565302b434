import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import { bestCandidate } from '../../../../src/core/planning/siting/best-candidate.js';
import { exclusionReason, preferenceOrder } from '../../../../src/core/planning/siting/candidate-filter.js';
import { distanceMatrix } from '../../../support/distance-matrix.js';
import { overlapTies } from '../../../../src/core/planning/siting/overlap-ties.js';
import type { BaseCandidate, PlanPlace } from '../../../../src/core/planning/plan-point.js';

const geodesic = createGeodesic(WGS84);

function candidate(id: string, place: PlanPlace, more: Partial<BaseCandidate> = {}): BaseCandidate {
  return { id, ...place, ellipsoidalHeightM: null, cellular: null, skyScore: null, cost: null, ...more };
}

const POINTS: readonly PlanPlace[] = [
  { latitudeDeg: -31, longitudeDeg: 21 },
  { latitudeDeg: -31, longitudeDeg: 21.4 },
  { latitudeDeg: -31, longitudeDeg: 21.2 },
];
const MIDDLE: PlanPlace = { latitudeDeg: -31, longitudeDeg: 21.2 };
/** About 0.1 % worse than the middle. */
const NEARLY: PlanPlace = { latitudeDeg: -31, longitudeDeg: 21.2002 };
const END: PlanPlace = { latitudeDeg: -31, longitudeDeg: 21 };
const ranges = new Float64Array(3).fill(20_000);

function order(candidates: readonly BaseCandidate[], tieFraction?: number): readonly string[] {
  const matrix = distanceMatrix(geodesic, candidates, POINTS, ranges);
  return bestCandidate(candidates, matrix, tieFraction).map((rank) => candidates[rank.candidate]?.id ?? '');
}

describe('bestCandidate', () => {
  it('puts the smallest largest distance first and reports what it is made of', () => {
    const candidates = [candidate('end', END), candidate('middle', MIDDLE)];
    const ranks = bestCandidate(candidates, distanceMatrix(geodesic, candidates, POINTS, ranges));
    const [best, second] = ranks;
    expect(best?.candidate).toBe(1);
    const halfM = geodesic.distanceM(-31, 21.2, -31, 21);
    expect(best?.worstDistanceM).toBeCloseTo(halfM, 6);
    expect(best?.meanDistanceM).toBeCloseTo((2 * halfM) / 3, 6);
    expect(best?.servedCount).toBe(3);
    expect(best?.worstPoints).toEqual([0, 1]);
    expect(second?.worstPoints).toEqual([1]);
    expect(second?.servedCount).toBe(2);
  });

  it('lets a better sky decide between places within a hundredth of distance, and distance beyond that', () => {
    expect(order([candidate('a', MIDDLE, { skyScore: 1 }), candidate('b', NEARLY, { skyScore: 3 })])).toEqual([
      'b',
      'a',
    ]);
    expect(order([candidate('a', MIDDLE, { skyScore: 1 }), candidate('b', END, { skyScore: 3 })])).toEqual(['a', 'b']);
    expect(order([candidate('a', MIDDLE, { skyScore: 1 }), candidate('b', NEARLY, { skyScore: 3 })], 0)).toEqual([
      'a',
      'b',
    ]);
  });

  it('keeps a candidate that stands on the only point before one with a better sky elsewhere', () => {
    const candidates = [candidate('a', END, { skyScore: 1 }), candidate('b', NEARLY, { skyScore: 3 })];
    const matrix = distanceMatrix(geodesic, candidates, [END], new Float64Array(1).fill(20_000));
    expect(bestCandidate(candidates, matrix).map((rank) => candidates[rank.candidate]?.id)).toEqual(['a', 'b']);
  });

  it('then asks for the lower cost, then the shorter distance, then the identifier', () => {
    expect(order([candidate('a', MIDDLE, { cost: 10 }), candidate('b', NEARLY, { cost: 5 })])).toEqual(['b', 'a']);
    expect(order([candidate('b', MIDDLE, { cost: null }), candidate('c', NEARLY, { cost: 5 })])).toEqual(['c', 'b']);
    expect(order([candidate('a', NEARLY), candidate('b', MIDDLE)])).toEqual(['b', 'a']);
    expect(order([candidate('b', MIDDLE), candidate('B', MIDDLE), candidate('a', MIDDLE)])).toEqual(['B', 'a', 'b']);
  });
});

describe('candidates that are the same', () => {
  it('keep the order they were given in', () => {
    const same = [candidate('A', MIDDLE), candidate('A', MIDDLE), candidate('A', MIDDLE)];
    const matrix = distanceMatrix(geodesic, same, POINTS, ranges);
    expect(bestCandidate(same, matrix).map((rank) => rank.candidate)).toEqual([0, 1, 2]);
    expect(preferenceOrder(same)).toEqual([0, 1, 2]);
  });

  it('cannot be ranked without points', () => {
    const matrix = distanceMatrix(geodesic, [candidate('A', MIDDLE)], [], new Float64Array(0));
    expect(() => bestCandidate([candidate('A', MIDDLE)], matrix)).toThrow('without points');
  });
});

describe('exclusionReason', () => {
  it('leaves out what is asked for and not met or not known', () => {
    const asked = { cellular: true, minSkyScore: 2, maxCost: 50 };
    const good = { cellular: true, skyScore: 2, cost: 50 };
    expect(exclusionReason(candidate('a', MIDDLE, good), asked)).toBeNull();
    expect(exclusionReason(candidate('a', MIDDLE, { ...good, cellular: false }), asked)).toBe('no-cellular');
    expect(exclusionReason(candidate('a', MIDDLE, { ...good, cellular: null }), asked)).toBe('cellular-unknown');
    expect(exclusionReason(candidate('a', MIDDLE, { ...good, skyScore: 1.9 }), asked)).toBe('sky-too-low');
    expect(exclusionReason(candidate('a', MIDDLE, { ...good, skyScore: null }), asked)).toBe('sky-unknown');
    expect(exclusionReason(candidate('a', MIDDLE, { ...good, cost: 51 }), asked)).toBe('cost-too-high');
    expect(exclusionReason(candidate('a', MIDDLE, { ...good, cost: null }), asked)).toBe('cost-unknown');
    expect(exclusionReason(candidate('a', MIDDLE), { cellular: false, minSkyScore: null, maxCost: null })).toBeNull();
  });
});

describe('preferenceOrder', () => {
  it('orders by sky, cost and identifier, with unknown last', () => {
    const list = [
      candidate('d', MIDDLE),
      candidate('c', MIDDLE, { skyScore: 1 }),
      candidate('b', MIDDLE, { skyScore: 2, cost: 9 }),
      candidate('a', MIDDLE, { skyScore: 2, cost: 3 }),
    ];
    expect(preferenceOrder(list)).toEqual([3, 2, 1, 0]);
  });
});

describe('overlapTies', () => {
  const line = Array.from({ length: 21 }, (_, i): PlanPlace => ({ latitudeDeg: -31, longitudeDeg: 21 + i * 0.05 }));
  const bases = [
    candidate('west', { latitudeDeg: -31, longitudeDeg: 21.1 }),
    candidate('middle', { latitudeDeg: -31, longitudeDeg: 21.5 }),
    candidate('east', { latitudeDeg: -31, longitudeDeg: 21.9 }),
  ];

  it('ties each base to its neighbour along a line, the most evenly served point first', () => {
    const matrix = distanceMatrix(geodesic, bases, line, new Float64Array(21).fill(25_000));
    const ties = overlapTies(matrix, [0, 1, 2]);
    expect(ties.map(({ baseA, baseB }) => [baseA, baseB])).toEqual([
      [0, 1],
      [1, 2],
    ]);
    expect(ties[0]?.points[0]).toBe(6);
    expect(ties[0]?.enough).toBe(true);
    for (const { baseA, baseB, points } of ties) {
      for (const point of points)
        for (const base of [baseA, baseB]) expect(matrix.ratio[base * 21 + point]).toBeLessThanOrEqual(1);
    }
  });

  it('says when neighbours share too few points or none', () => {
    const ties = overlapTies(distanceMatrix(geodesic, bases, line, new Float64Array(21).fill(12_000)), [0, 1, 2]);
    expect(ties.map(({ points, enough }) => [points.length, enough])).toEqual([
      [0, false],
      [0, false],
    ]);
    expect(overlapTies(distanceMatrix(geodesic, bases, line, ranges21()), [1])).toEqual([]);
  });

  function ranges21(): Float64Array {
    return new Float64Array(21).fill(25_000);
  }
});
