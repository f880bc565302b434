import { describe, expect, it } from 'vitest';
import type { VectorObservation } from '../../../../src/core/network/network.js';
import type { Placed } from '../../../../src/records/network-rows.js';
import { withoutCopies } from '../../../../src/tasks/network/input/copied-vectors.js';

const none = { eeM2: 0, enM2: 0, euM2: 0, nnM2: 0, nuM2: 0, uuM2: 0 };
const GEOCENTRIC = { xx: 1e-6, xy: 0, xz: 0, yy: 1e-6, yz: 0, zz: 2e-6 };
const local = (stationId: string, upM2 = 4e-6): VectorObservation['covariance'] => ({
  stationId,
  local: { ...none, eeM2: 1e-6, nnM2: 1e-6, uuM2: upM2 },
});
const vectors = (list: readonly Omit<VectorObservation, 'shared'>[]): readonly Placed<VectorObservation>[] =>
  list.map((value, index) => ({
    value: { ...value, shared: [] },
    place: { source: 'vectors.csv', line: index + 2, rank: index },
  }));
const THERE = { fromId: 'A', toId: 'B', difference: { xM: 100.001, yM: -200.002, zM: 0 } };
const BACK = { fromId: 'B', toId: 'A', difference: { xM: -100.001, yM: 200.002, zM: 0 } };

describe('vectors that are there twice', () => {
  it.each([
    ['as it stands', { ...THERE, covariance: GEOCENTRIC }, { ...THERE, covariance: GEOCENTRIC }],
    ['from the other end', { ...THERE, covariance: GEOCENTRIC }, { ...BACK, covariance: GEOCENTRIC }],
    ['from the other end, with sigmas', { ...THERE, covariance: local('A') }, { ...BACK, covariance: local('B') }],
  ])('count once: %s', (_, first, second) => {
    const { vectors: kept, problems } = withoutCopies(vectors([first, second]));
    expect(kept.map(({ place }) => place.line)).toEqual([2]);
    expect(problems.map(({ code }) => code)).toEqual(['network-copied']);
  });

  it.each([
    ['another sigma', { ...BACK, covariance: local('B', 5e-6) }],
    ['another day', { ...BACK, covariance: local('B'), day: '2026-03-05' }],
    [
      'a millimetre of difference',
      { ...BACK, difference: { ...BACK.difference, xM: -100.002 }, covariance: local('B') },
    ],
    ['the sign as it was', { ...THERE, fromId: 'B', toId: 'A', covariance: local('B') }],
  ])('count twice with %s', (_, second) => {
    const { vectors: kept, problems } = withoutCopies(vectors([{ ...THERE, covariance: local('A') }, second]));
    expect([kept.length, problems.length]).toEqual([2, 0]);
  });
});
