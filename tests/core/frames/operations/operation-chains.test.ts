import { describe, expect, it } from 'vitest';
import { findOperationChains } from '../../../../src/core/frames/operations/operation-chains.js';
import { OPERATIONS } from '../../../../src/core/frames/operations/operations.js';

describe('chains of two operations', () => {
  it('lead from ITRF2020 to GDA2020 through ITRF2014, the most accurate way first', () => {
    const [best] = findOperationChains('EPSG:9988', 'EPSG:7844');
    expect(best?.through).toBe('ITRF2014');
    expect(best?.first.operation.code).toBe('EPSG:9991');
    expect(best?.first.direction).toBe('inverse');
    expect(best?.second.operation.code).toBe('EPSG:8049');
    expect(best?.accuracyM).toBeCloseTo(Math.hypot(0.001, 0.03), 12);
  });

  it('come the most accurate first, then by the code numbers of the two', () => {
    const found = findOperationChains('EPSG:4283', 'EPSG:8988');
    expect(found.map(({ through }) => through)).toEqual(['ITRF2008', 'ITRF2014', 'ITRF2000']);
    const equal = findOperationChains('EPSG:8999', 'EPSG:7844');
    expect(equal.map(({ first, second }) => `${first.operation.code} ${second.operation.code}`)).toEqual([
      'EPSG:6276 EPSG:8048',
      'EPSG:7790 EPSG:8049',
    ]);
    expect(equal[0]?.accuracyM).toBe(equal[1]?.accuracyM);
    for (const from of OPERATIONS) {
      for (const to of OPERATIONS) {
        if (from.from.geographic2d === null || to.to.geographic2d === null) continue;
        const accuracies = findOperationChains(from.from.geographic2d, to.to.geographic2d).map(
          ({ accuracyM }) => accuracyM,
        );
        expect(accuracies).toEqual([...accuracies].sort((a, b) => a - b));
      }
    }
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
