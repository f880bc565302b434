import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { localFrameAt } from '../../../src/core/ellipsoid/local-frame.js';
import { ZERO_COVARIANCE } from '../../../src/core/observation/uncertainty/local-covariance.js';
import type { ReducedPoint } from '../../../src/records/points/reduced-point.js';
import { createRepeatKeeper } from '../../../src/tasks/repeats/repeat-keeper.js';
import type { ReductionSetup } from '../../../src/tasks/reduce/reduction-setup.js';
import { NORMAL_PRECISION } from '../../support/check-setup.js';

const BASE = { latitudeDeg: 47, longitudeDeg: 9, ellipsoidalHeightM: 500 };
const setup = {
  bases: [
    {
      identity: {
        setupKey: 'k',
        markKey: 'm',
        mark: { horizontalM: 0.01, verticalM: 0.01 },
        setup: { horizontalM: 0, verticalM: 0 },
      },
      origin: { geodetic: BASE },
      frame: localFrameAt(47, 9),
    },
  ],
  ellipsoid: GRS80,
  geodesic: createGeodesic(GRS80),
  precision: NORMAL_PRECISION,
} as unknown as ReductionSetup;
const part = { ...ZERO_COVARIANCE, eeM2: 1e-5, nnM2: 1e-5, uuM2: 1e-5 };
const HOUR = 3_600_000;
/** An occupation of a point; `upM`: how much it is too high, `row`: its place in time, ten hours each. */
const point = (pointId: string, occupation: string, row: number, upM = 0): ReducedPoint =>
  ({
    pointId,
    occupation,
    position: { geodetic: { latitudeDeg: 47.001, longitudeDeg: 9, ellipsoidalHeightM: 500 + upM } },
    uncertainty: Object.fromEntries(
      ['noise', 'pole', 'correlated', 'age', 'baseline', 'bend', 'base', 'total'].map((name) => [
        name,
        name === 'noise' ? part : ZERO_COVARIANCE,
      ]),
    ),
    firstEpochMs: 10 * row * HOUR,
    lastEpochMs: 10 * row * HOUR + 60_000,
    poleLengthM: 2,
    setupKey: 'k',
    verdict: row === 1 ? 'review' : 'accepted',
  }) as unknown as ReducedPoint;
const kept = (...points: readonly ReducedPoint[]) => {
  const keeper = createRepeatKeeper(setup);
  for (const one of points) keeper.add(one);
  return keeper;
};

describe('occupations of a run, compared at its end', () => {
  it('are those of points occupied more than once, by name', () => {
    const { repeats, disputed } = kept(
      point('A', '1', 0),
      point('B', '1', 1),
      point('A', '2', 2),
      point('C', '1', 3),
    ).compare();
    expect(repeats.map(({ pointId, occupations }) => [pointId, occupations])).toEqual([['A', ['1', '2']]]);
    expect(repeats[0]?.longestM).toBeCloseTo(setup.geodesic.distanceM(47, 9, 47.001, 9), 6);
    expect(disputed).toEqual([]);
    expect(kept(point('A', '1', 0)).compare()).toEqual({ repeats: [], disputed: [] });
    expect(kept().compare()).toEqual({ repeats: [], disputed: [] });
  });

  it('are told by their row, with the verdict that they had, where they contradict each other', () => {
    const rows = [
      point('A', '1', 0),
      point('B', '1', 1),
      point('B', '2', 2, 5),
      point('A', '2', 3, 5),
      point('C', '1', 4),
    ];
    const { disputed } = kept(...rows).compare();
    expect(
      disputed.map(({ row, pointId, occupation, wasAccepted }) => [row, pointId, occupation, wasAccepted]),
    ).toEqual([
      [0, 'A', '1', true],
      [1, 'B', '1', false],
      [2, 'B', '2', true],
      [3, 'A', '2', true],
    ]);
    expect(disputed[0]?.reasons).toEqual(['point-repeat-disagrees']);
    expect(
      kept(...rows)
        .compare((row) => `row ${String(row)}`)
        .disputed.map(({ occupation }) => occupation),
    ).toEqual(['row 0', 'row 1', 'row 2', 'row 3']);
  });

  it('keep their places over many, and over parts that were recorded elsewhere', () => {
    const rows = Array.from({ length: 8200 }, (_, row) => point(`P${String(row)}`, '1', row));
    rows[5] = point('A', '1', 5);
    rows[8191] = point('A', '2', 8191, 5);
    rows[8195] = point('A', '3', 8195, 5);
    const { disputed, repeats } = kept(...rows).compare();
    expect(disputed.map(({ row }) => row)).toEqual([5, 8191, 8195]);
    expect(repeats[0]?.occupations).toEqual(['1', '2', '3']);
  });

  it('leave out one without a position, and a point of which one is left', () => {
    const lost = { ...point('A', '2', 1), position: null };
    expect(kept(point('A', '1', 0), lost).compare().repeats).toEqual([]);
    expect(kept(point('A', '1', 0), lost, point('A', '3', 2)).compare().repeats[0]?.occupations).toEqual(['1', '3']);
  });
});
