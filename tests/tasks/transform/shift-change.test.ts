import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { findOperationChains } from '../../../src/core/frames/operations/operation-chains.js';
import { operationByCode } from '../../../src/core/frames/operations/operations.js';
import { applyShift } from '../../../src/core/frames/shifts/shift-apply.js';
import type { ShiftDirection } from '../../../src/core/frames/shifts/shift-definition.js';
import type { GeocentricPoint } from '../../../src/records/points/point.js';
import { composeTransform } from '../../../src/tasks/transform/compose-transform.js';
import { emptyPointOnTheWay } from '../../../src/tasks/transform/point-on-the-way.js';
import { reversedPlan } from '../../../src/tasks/transform/transform-plan.js';
import { planBy } from '../../support/moved-place.js';
import type { ShiftSteps } from '../../support/moved-place.js';
import { rowAt } from '../../support/place-row-at.js';
import { apartM, valueOf } from '../../support/shift-of-row.js';

const point = { xM: -4052051.7643, yM: 4212836.2017, zM: -2545106.0245 };
const shiftOf = (code: string, direction: ShiftDirection): ShiftSteps[number] => [
  valueOf(operationByCode(code)).shift,
  direction,
];

/** X, Y, Z by the shifts, on the way that every row of `transform` goes. */
function movedBy(steps: ShiftSteps): GeocentricPoint {
  const run = composeTransform(valueOf(planBy(steps, GRS80, GRS80, 2026.9, 'geocentric')));
  const out = emptyPointOnTheWay();
  expect(run(rowAt(point.xM, point.yM, point.zM), out)).toBeNull();
  return out;
}

describe('the change of frame by several operations', () => {
  it('is the operations one after the other, at one epoch', () => {
    const [best] = findOperationChains('EPSG:9988', 'EPSG:7844');
    if (best === undefined) throw new Error('a chain is expected');
    const found = movedBy(
      [best.first, best.second].map(({ operation, direction }) => [operation.shift, direction] as const),
    );
    const middle = valueOf(applyShift(valueOf(operationByCode('EPSG:9991')).shift, point, 2026.9, 'inverse'));
    const end = valueOf(applyShift(valueOf(operationByCode('EPSG:8049')).shift, middle, 2026.9, 'forward'));
    expect(apartM(found, end)).toBe(0);
  });

  it('takes any number of them: three there and the same three back come home', () => {
    const there = [shiftOf('EPSG:9991', 'inverse'), shiftOf('EPSG:8049', 'forward'), shiftOf('EPSG:8048', 'inverse')];
    const back = [...there]
      .reverse()
      .map(([shift, direction]) => [shift, direction === 'forward' ? 'inverse' : 'forward'] as const);
    expect(apartM(movedBy([...there, ...back]), point)).toBeLessThan(1e-8);
  });

  it('reversed takes them in the other order: shifts of hundreds of metres and seconds of turn do not change places', () => {
    const steps = [shiftOf('EPSG:1314', 'forward'), shiftOf('EPSG:1504', 'inverse')];
    const plan = valueOf(planBy(steps, GRS80, GRS80, null, 'geocentric'));
    const [end, home] = [emptyPointOnTheWay(), emptyPointOnTheWay()];
    expect(composeTransform(plan)(rowAt(point.xM, point.yM, point.zM), end)).toBeNull();
    expect(composeTransform(reversedPlan(plan))(rowAt(end.xM, end.yM, end.zM), home)).toBeNull();
    expect(apartM(home, point)).toBeLessThan(1e-6);
  });

  it('passes on what any of them refuses', () => {
    const steps = [shiftOf('EPSG:8048', 'forward'), shiftOf('EPSG:8049', 'inverse')];
    expect(planBy(steps, GRS80, GRS80, null).problems[0]?.code).toBe('shift-epoch-missing');
  });
});
