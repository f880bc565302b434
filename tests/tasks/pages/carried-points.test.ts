import { describe, expect, it } from 'vitest';
import type { PlaceRow } from '../../../src/records/points/place-row.js';
import type { ProblemCode } from '../../../src/records/codes/problem-codes.js';
import type { Problem } from '../../../src/records/problem.js';
import { collectCarriedPoints } from '../../../src/tasks/pages/carried-points.js';
import type { CarriedPoints } from '../../../src/tasks/pages/carried-points.js';
import type { PointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';

interface Carried {
  readonly id: string;
  readonly told?: readonly ProblemCode[];
  /** Metres outside the control of a site; absent: no site. */
  readonly outsideM?: number;
  readonly circle?: string;
  readonly reasons?: string;
}

function gathered(
  points: readonly Carried[],
  refusals: readonly (readonly [number, ...(readonly Problem[])])[] = [],
): CarriedPoints {
  const collector = collectCarriedPoints(
    ['circle_95_m', 'Reasons'],
    false,
    () => ({ first: 0, second: 0 }),
    ({ pointId }) => [pointId],
  );
  for (const { id, told = [], outsideM, circle = '', reasons = '' } of points)
    collector.add(
      { pointId: id, passThrough: [circle, reasons] } as unknown as PlaceRow,
      {
        site: outsideM === undefined ? null : { outsideM, sigmaEastM: 0.01, sigmaNorthM: 0.01 },
      } as unknown as PointOnTheWay,
      told,
    );
  for (const [line, ...problems] of refusals) collector.refuse(problems, line);
  return collector.gathered();
}

const DOUBT: ProblemCode = 'coordinate-outside-area';
const problem = (code: ProblemCode, severity: Problem['severity'] = 'error'): Problem =>
  ({ code, severity }) as Problem;

describe('points that were carried, for their page', () => {
  it('come with those in doubt first, then those outside the control, the farthest first', () => {
    const { rows, inDoubt, farthestOutside, doubts } = gathered([
      { id: 'inside', outsideM: 0 },
      { id: 'near', outsideM: 1 },
      { id: 'doubt', outsideM: 0, told: [DOUBT] },
      { id: 'far', outsideM: 9 },
      { id: 'doubt and far', outsideM: 5, told: [DOUBT, DOUBT, 'coordinates-swapped'] },
      { id: 'left unchecked', outsideM: 0, reasons: 'network-unchecked' },
    ]);
    expect(rows.map(({ pointId }) => pointId)).toEqual([
      'doubt and far',
      'doubt',
      'left unchecked',
      'far',
      'near',
      'inside',
    ]);
    expect(inDoubt).toBe(3);
    expect(farthestOutside).toEqual({ pointId: 'far', valueM: 9 });
    expect(doubts).toEqual([
      { code: DOUBT, count: 2, firstId: 'doubt' },
      { code: 'coordinates-swapped', count: 1, firstId: 'doubt and far' },
      { code: 'network-unchecked', count: 1, firstId: 'left unchecked' },
    ]);
    expect(rows[0]?.reasons).toEqual([DOUBT, 'coordinates-swapped']);
  });

  it('have the largest of their circles, the first of equals, and nothing outside where none is', () => {
    const { largestCircle95, farthestOutside, rows } = gathered([
      { id: 'A', circle: '0.02' },
      { id: 'B', circle: '0.05' },
      { id: 'C', circle: '0.05' },
      { id: 'D', circle: '' },
    ]);
    expect(largestCircle95).toEqual({ pointId: 'B', valueM: 0.05 });
    expect(farthestOutside).toBeNull();
    expect(rows.map(({ circle95M }) => circle95M)).toEqual([0.02, 0.05, 0.05, null]);
    // Of a site the circle is that of the fit, whatever was written.
    expect(gathered([{ id: 'A', circle: '9', outsideM: 0 }]).largestCircle95?.valueM).toBeCloseTo(0.02448, 5);
    expect(gathered([{ id: 'A' }]).largestCircle95).toBeNull();
  });

  it('are kept by the thousand, those that need a look before others', () => {
    const many = Array.from({ length: 1500 }, (_, index): Carried => ({
      id: String(index),
      ...(index % 300 === 299 && { told: [DOUBT] }),
      ...(index % 300 === 298 && { outsideM: 1 }),
    }));
    const { rows, marks, inDoubt } = gathered(many);
    expect(rows).toHaveLength(1000);
    expect(rows.slice(0, 5).map(({ pointId }) => pointId)).toEqual(['299', '599', '899', '1199', '1499']);
    expect(rows.slice(5, 10).map(({ pointId }) => pointId)).toEqual(['298', '598', '898', '1198', '1498']);
    expect(inDoubt).toBe(5);
    // Every point has one mark: those in doubt from the table.
    expect(marks).toHaveLength(1500);
    expect(marks.slice(-5).every((mark) => mark.isInDoubt)).toBe(true);
    expect(new Set(marks.map(({ pointId }) => pointId)).size).toBe(1500);
  });

  it('that were refused are counted by kind, with their first three lines', () => {
    const { refused } = gathered(
      [],
      [
        [2, problem('value-missing'), problem('value-missing')],
        [3, problem('value-out-of-range'), problem(DOUBT, 'warning')],
        [4, problem('value-missing')],
        [5, problem('value-missing')],
        [6, problem('value-missing'), problem('csv-axes-mismatch')],
      ],
    );
    expect(refused).toEqual([
      { code: 'value-missing', count: 4, firstLines: [2, 4, 5] },
      { code: 'csv-axes-mismatch', count: 1, firstLines: [6] },
      { code: 'value-out-of-range', count: 1, firstLines: [3] },
    ]);
  });
});
