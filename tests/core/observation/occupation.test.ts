import { describe, expect, it } from 'vitest';
import {
  continuesOccupation,
  extendOccupation,
  isOutOfOrder,
  startOccupation,
} from '../../../src/core/observation/occupation.js';
import type { OccupationState } from '../../../src/core/observation/occupation.js';
import type { Fix } from '../../../src/records/points/fix.js';
import { makeFix } from './make-fix.js';

/** Sizes of the occupations a run of rows falls into. */
function group(fixes: readonly Fix[], gapS = 60): readonly number[] {
  const sizes: number[] = [];
  let state: OccupationState | null = null;
  for (const fix of fixes) {
    if (state !== null && continuesOccupation(state, fix, gapS)) {
      extendOccupation(state, fix);
      sizes[sizes.length - 1] = (sizes.at(-1) ?? 0) + 1;
    } else {
      state = startOccupation(fix);
      sizes.push(1);
    }
  }
  return sizes;
}

const at = (second: number, change: Partial<Fix> = {}): Fix => makeFix({ epochMs: second * 1000, ...change });
const float = { solution: 'float' } as const;

describe('an occupation', () => {
  it('runs on while epochs follow within the gap, which is inclusive', () => {
    expect(group([at(0), at(1), at(61), at(122)])).toEqual([3, 1]);
    expect(group([at(0), at(0)])).toEqual([2]);
  });

  it('ends with a change of point, base or pole length', () => {
    expect(group([at(0), at(1, { pointId: 'P2' }), at(2)])).toEqual([1, 1, 1]);
    expect(group([at(0, { baseId: 'A' }), at(1, { baseId: 'B' })])).toEqual([1, 1]);
    expect(group([at(0, { poleLengthM: 2 }), at(1, { poleLengthM: 2.2 })])).toEqual([1, 1]);
  });

  it('ends with another station, where both name one; an epoch that names none changes none', () => {
    expect(group([at(0, { stationId: '1' }), at(1, { stationId: '2' }), at(2, { stationId: '2' })])).toEqual([1, 2]);
    expect(group([at(0, { stationId: '1' }), at(1), at(2, { stationId: '1' })])).toEqual([3]);
    expect(group([at(0), at(1, { stationId: '1' })])).toEqual([2]);
  });

  it('does not end where a row spells out the base and pole the session gives to the others', () => {
    const state = startOccupation(at(0), 'A', 2);
    expect(continuesOccupation(state, at(1, { baseId: 'A', poleLengthM: 2 }), 60, 'A', 2)).toBe(true);
    expect(continuesOccupation(state, at(1), 60)).toBe(false);
  });

  it('ends with a new initialisation: a fixed epoch after a fix was lost', () => {
    expect(group([at(0), at(1, float), at(2, float), at(3), at(4)])).toEqual([3, 2]);
  });

  it('holds the epochs before its first fixed one', () => {
    expect(group([at(0, float), at(1, float), at(2), at(3)])).toEqual([4]);
    expect(group([at(0, float), at(1, float)])).toEqual([2]);
  });

  it('is one row where the row is a mean already or has no time', () => {
    expect(group([at(0, { epochCount: 5 }), at(1, { epochCount: 5 })])).toEqual([1, 1]);
    expect(group([at(0), at(1, { epochCount: 5 }), at(2)])).toEqual([1, 1, 1]);
    expect(group([makeFix({}), makeFix({})])).toEqual([1, 1]);
  });
});

describe('isOutOfOrder', () => {
  it('is true of an earlier epoch of the same point in the same file', () => {
    const state = startOccupation(at(10));
    expect(isOutOfOrder(state, at(9))).toBe(true);
    expect(isOutOfOrder(state, at(10))).toBe(false);
    expect(isOutOfOrder(state, at(9, { pointId: 'P2' }))).toBe(false);
    expect(isOutOfOrder(state, at(9, { place: { sourceIndex: 1, line: 2 } }))).toBe(false);
    expect(isOutOfOrder(state, at(9, { epochCount: 30 }))).toBe(false);
    expect(continuesOccupation(state, at(9), 60)).toBe(false);
  });
});
