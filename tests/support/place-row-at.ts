import type { PlaceRow } from '../../src/records/points/place-row.js';

/** A row at a position, with its heights where there are any. */
export function rowAt(
  first: number,
  second: number,
  third = 0,
  heights: Partial<Pick<PlaceRow, 'ellipsoidalHeightM' | 'orthometricHeightM'>> = {},
): PlaceRow {
  return {
    pointId: '1',
    first,
    second,
    third,
    ellipsoidalHeightM: null,
    orthometricHeightM: null,
    ...heights,
    passThrough: [],
    line: 1,
    record: 1,
  };
}
