import { describe, expect, it } from 'vitest';
import type { GridSystem } from '../../../src/core/grid/systems/grid-system.js';
import type { JoinReport } from '../../../src/records/reports/join-report.js';
import { joinReport } from '../../../src/tasks/pages/join-report.js';
import type { JoinedThings, JoinSurroundings } from '../../../src/tasks/pages/join-report.js';

// Counted by hand; the sentences are a regression.
const GRID = { code: 'EPSG:1', name: 'a grid', axes: [] } as unknown as GridSystem;
const station = (pointId: string, gridFirst: number, gridSecond: number, own = {}) => ({
  pointId,
  gridFirst,
  gridSecond,
  ellipsoidalHeightM: null,
  orthometricHeightM: null,
  ...own,
});
const [A, B, C] = [station('A', 0, 0), station('B', 3, 4), station('C', 6, 8)] as const;
const line = (gridDistanceM: number, groundDistanceM: number | null, own = {}) => ({
  from: A,
  to: B,
  azimuthDeg: 10,
  gridDistanceM,
  groundDistanceM,
  ...own,
});
const report = (made: unknown, rows: number, own: Partial<JoinSurroundings> = {}, grid = GRID): JoinReport =>
  joinReport(made as JoinedThings, grid, {
    rows: Array.from({ length: rows }, (_, index) => [String(index)]),
    refused: 0,
    withoutPlace: 0,
    ...own,
  } as unknown as JoinSurroundings);
const lines = (...joins: readonly ReturnType<typeof line>[]): JoinReport =>
  report({ mode: 'lines', joins }, joins.length);

describe('the page of joined lines', () => {
  it('counts what was made, refused, without a height, and of one place', () => {
    const made = report(
      { mode: 'lines', joins: [line(100, 100), line(0, 0, { azimuthDeg: null }), line(5, null)] },
      3,
      { refused: 7, withoutPlace: 8 },
    );
    expect(made.counts).toEqual({
      made: 3,
      refused: 7,
      withoutPlace: 8,
      withoutHeight: 1,
      withoutHeightIds: ['A to B'],
      coincident: 1,
    });
    // What lacks a height stands first.
    expect(made.rows).toEqual([['2'], ['0'], ['1']]);
    expect(made.lines.map(({ isComplete }) => isComplete)).toEqual([true, true, false]);
    expect(made.lines[0]).toEqual({ from: { first: 0, second: 0 }, to: { first: 3, second: 4 }, isComplete: true });
    expect(made.outlines).toEqual([]);
    expect(made.systemName).toBe('EPSG:1 a grid');
    expect(report({ mode: 'lines', joins: [] }, 0, {}, { ...GRID, code: null }).systemName).toBe('a grid');
  });

  it('keeps a thousand rows, and each point once', () => {
    const made = lines(...Array.from({ length: 1001 }, () => line(100, 100)));
    expect(made.rows).toHaveLength(1000);
    expect(made.counts.made).toBe(1001);
    expect(made.marks).toEqual([
      { pointId: 'A', place: { first: 0, second: 0 }, isNew: false },
      { pointId: 'B', place: { first: 3, second: 4 }, isNew: false },
    ]);
  });

  it('names the line of which ground and grid differ most, by their ratio', () => {
    expect(lines(line(1000, 1000.1), line(10, 9.99), line(100, 100.05)).groundDifference).toEqual({
      fromId: 'A',
      toId: 'B',
      gridM: 10,
      groundM: 9.99,
    });
    // Of two alike the first.
    expect(lines(line(10, 10.01, { to: C }), line(10, 10.01)).groundDifference?.toId).toBe('C');
    expect(lines(line(100, 100)).groundDifference?.gridM).toBe(100);
    expect(lines(line(0, 5), line(5, null)).groundDifference).toBeNull();
  });
});

describe('what the page of joins says is next', () => {
  const MEND = 'Mend the rows that were refused and run again.';
  const HEIGHTS =
    'Give heights above the ellipsoid, or above the sea with a geoid: what is measured on the ground needs them.';
  const ENDS = 'Look at the lines whose ends are one place: are both points meant?';
  const GROUND = 'Set out and compare tapes and total stations with ground distances, not with grid ones.';
  const CHECK = 'Measure a check distance between two of the new points: a polar point has no check of its own.';
  const DEED = 'Check that the corners are the ones of the deed: an area checks no corner.';
  const polar = { mode: 'polar', points: [{ from: A, point: { ...B, orthometricHeightM: 5 } }] };
  const area = { mode: 'area', figures: [{ corners: [A, B, C], area: { groundAreaM2: 1 } }] };
  it.each([
    ['nothing, of plain lines', { mode: 'lines', joins: [line(100, 100)] }, 0, []],
    ['what was refused', { mode: 'lines', joins: [line(100, 100)] }, 1, [MEND]],
    ['a height', { mode: 'lines', joins: [line(100, null)] }, 0, [HEIGHTS]],
    ['a line of one place', { mode: 'lines', joins: [line(0, 0, { azimuthDeg: null })] }, 0, [ENDS]],
    // 5 parts in a million from which the two are not to be taken for each other.
    ['nothing, of 4.9 parts in a million', { mode: 'lines', joins: [line(100, 100.00049)] }, 0, []],
    ['the ground, of 5.1 parts in a million', { mode: 'lines', joins: [line(100, 100.00051)] }, 0, [GROUND]],
    ['the ground, as much shorter', { mode: 'lines', joins: [line(100, 99.99949)] }, 0, [GROUND]],
    ['a check distance of polar points', polar, 0, [CHECK]],
    ['the deed of an area', area, 0, [DEED]],
    [
      'all at once',
      { mode: 'lines', joins: [line(0, null, { azimuthDeg: null }), line(9, 10)] },
      2,
      [MEND, HEIGHTS, ENDS, GROUND],
    ],
  ])('is %s', (_, made, refused, next) => {
    expect(report(made, 1, { refused }).next).toEqual(next);
  });
});

describe('the page of polar points and of areas', () => {
  it('draws new points apart from those they were set out from', () => {
    const points = [
      { from: A, point: { ...B, orthometricHeightM: 5 } },
      { from: A, point: { ...C, ellipsoidalHeightM: 5 } },
      { from: A, point: station('D', 1, 1) },
    ];
    const made = report({ mode: 'polar', points }, 3);
    expect(made.marks.map(({ pointId, isNew }) => `${pointId} ${isNew ? 'new' : 'old'}`)).toEqual([
      'A old',
      'B new',
      'C new',
      'D new',
    ]);
    expect(made.lines.map(({ isComplete }) => isComplete)).toEqual([true, true, true]);
    expect(made.counts).toMatchObject({ withoutHeight: 1, coincident: 0 });
    expect(made.rows[0]).toEqual(['2']);
    expect(made.groundDifference).toBeNull();
  });
  it('draws an area by its corners', () => {
    const figures = [
      { corners: [A, B, C], area: { groundAreaM2: 25 } },
      { corners: [C, B], area: { groundAreaM2: null } },
    ];
    const made = report({ mode: 'area', figures }, 2);
    expect(made.outlines[1]).toEqual([
      { first: 6, second: 8 },
      { first: 3, second: 4 },
    ]);
    expect(made.marks.map(({ pointId, isNew }) => [pointId, isNew])).toEqual([
      ['A', false],
      ['B', false],
      ['C', false],
    ]);
    expect(made.counts.withoutHeight).toBe(1);
    expect(made.lines).toEqual([]);
  });
});
