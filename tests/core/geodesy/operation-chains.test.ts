import { describe, expect, it } from 'vitest';
import { createChainFunction, findOperationChains } from '../../../src/core/geodesy/operation-chains.js';
import { operationByCode } from '../../../src/core/geodesy/operations.js';
import { applyShift } from '../../../src/core/geodesy/shift-apply.js';
import { apartM, valueOf } from '../../support/shift-of-row.js';

const point = { xM: -4052051.7643, yM: 4212836.2017, zM: -2545106.0245 };

describe('chains of two operations', () => {
  it('lead from ITRF2020 to GDA2020 through ITRF2014, the most accurate way first', () => {
    const [best] = findOperationChains('EPSG:9988', 'EPSG:7844');
    expect(best?.through).toBe('ITRF2014');
    expect(best?.first.operation.code).toBe('EPSG:9991');
    expect(best?.first.direction).toBe('inverse');
    expect(best?.second.operation.code).toBe('EPSG:8049');
    expect(best?.accuracyM).toBeCloseTo(Math.hypot(0.001, 0.03), 12);
  });

  it('are the two operations one after the other, at one epoch', () => {
    const [best] = findOperationChains('EPSG:9988', 'EPSG:7844');
    if (best === undefined) throw new Error('a chain is expected');
    const middle = valueOf(applyShift(valueOf(operationByCode('EPSG:9991')).shift, point, 2026.9, 'inverse'));
    const end = valueOf(applyShift(valueOf(operationByCode('EPSG:8049')).shift, middle, 2026.9, 'forward'));
    const out = { xM: 0, yM: 0, zM: 0 };
    valueOf(createChainFunction(best, 2026.9))(point.xM, point.yM, point.zM, out);
    expect(apartM(out, end)).toBe(0);
    expect(createChainFunction(best, null).problems[0]?.code).toBe('shift-epoch-missing');
  });

  it('are not offered where one operation does it, within a frame, or for unknown systems', () => {
    expect(findOperationChains('EPSG:9000', 'EPSG:7844')).toEqual([]);
    expect(findOperationChains('EPSG:4326', 'EPSG:4979')).toEqual([]);
    expect(findOperationChains('EPSG:4326', 'EPSG:31467')).toEqual([]);
  });

  it('never go through WGS 84, which stands for several frames', () => {
    expect(findOperationChains('EPSG:4277', 'EPSG:4148')).toEqual([]);
  });
});
