import { describe, expect, it } from 'vitest';
import { findOperationChains } from '../../../../../src/core/frames/operations/operation-chains.js';
import { operationByCode } from '../../../../../src/core/frames/operations/operations.js';
import { applyShift } from '../../../../../src/core/frames/shifts/shift-apply.js';
import type { ShiftDirection } from '../../../../../src/core/frames/shifts/shift-definition.js';
import { changeBy } from '../../../../support/moved-place.js';
import { apartM, valueOf } from '../../../../support/shift-of-row.js';

const point = { xM: -4052051.7643, yM: 4212836.2017, zM: -2545106.0245 };
const shiftOf = (code: string, direction: ShiftDirection): Parameters<typeof changeBy>[0][number] => [
  valueOf(operationByCode(code)).shift,
  direction,
];

describe('the change of frame by several operations', () => {
  it('is the operations one after the other, at one epoch', () => {
    const [best] = findOperationChains('EPSG:9988', 'EPSG:7844');
    if (best === undefined) throw new Error('a chain is expected');
    const change = valueOf(
      changeBy(
        [best.first, best.second].map(({ operation, direction }) => [operation.shift, direction] as const),
        2026.9,
      ),
    );
    if (change.kind !== 'geocentric') throw new Error('a shift is expected');
    const middle = valueOf(applyShift(valueOf(operationByCode('EPSG:9991')).shift, point, 2026.9, 'inverse'));
    const end = valueOf(applyShift(valueOf(operationByCode('EPSG:8049')).shift, middle, 2026.9, 'forward'));
    const out = { xM: 0, yM: 0, zM: 0 };
    change.run(point.xM, point.yM, point.zM, out);
    expect(apartM(out, end)).toBe(0);
  });

  it('takes any number of them: three there and the same three back come home', () => {
    const there = [shiftOf('EPSG:9991', 'inverse'), shiftOf('EPSG:8049', 'forward'), shiftOf('EPSG:8048', 'inverse')];
    const back = [...there]
      .reverse()
      .map(([shift, direction]) => [shift, direction === 'forward' ? 'inverse' : 'forward'] as const);
    const change = valueOf(changeBy([...there, ...back], 2026.9));
    if (change.kind !== 'geocentric') throw new Error('a shift is expected');
    const out = { xM: 0, yM: 0, zM: 0 };
    change.run(point.xM, point.yM, point.zM, out);
    expect(apartM(out, point)).toBeLessThan(1e-8);
  });

  it('passes on what any of them refuses', () => {
    const steps = [shiftOf('EPSG:8048', 'forward'), shiftOf('EPSG:8049', 'inverse')];
    expect(changeBy(steps, null).problems[0]?.code).toBe('shift-epoch-missing');
  });
});
