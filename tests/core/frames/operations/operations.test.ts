import { describe, expect, it } from 'vitest';
import { isInsideShiftArea } from '../../../../src/core/frames/operations/operation-area.js';
import {
  OPERATIONS,
  findOperations,
  operationByCode,
  sameOperationFrame,
} from '../../../../src/core/frames/operations/operations.js';
import { applyShift } from '../../../../src/core/frames/shifts/shift-apply.js';
import { shiftMethodEntry } from '../../../../src/core/frames/shifts/shift-methods.js';
import type { GeocentricPoint } from '../../../../src/records/points/point.js';
import { hasProgram, runProgram } from '../../../support/external-programs.js';
import { apartM, valueOf } from '../../../support/shift-of-row.js';

const codes = (from: string, to: string): readonly string[] =>
  findOperations(from, to).map((match) => `${match.operation.code} ${match.direction}`);

describe('finding an operation', () => {
  it('lists forward and inverse matches, the most accurate first', () => {
    expect(codes('EPSG:4222', 'EPSG:4148')).toEqual(['EPSG:1504 forward']);
    expect(codes('EPSG:4148', 'EPSG:4222')).toEqual(['EPSG:1504 inverse']);
    expect(codes('EPSG:4222', 'EPSG:4326')).toEqual(['EPSG:1128 forward', 'EPSG:1129 forward']);
    expect(codes('EPSG:4326', 'EPSG:4222')).toEqual(['EPSG:1128 inverse', 'EPSG:1129 inverse']);
    expect(codes('EPSG:4283', 'EPSG:7844')).toEqual(['EPSG:8048 forward']);
  });

  it('takes the 2D, 3D and geocentric codes of a frame for one', () => {
    for (const from of ['EPSG:8999', 'EPSG:7911', 'EPSG:5332']) {
      for (const to of ['EPSG:4283', 'EPSG:4939', 'EPSG:4938']) expect(codes(from, to)).toEqual(['EPSG:6276 forward']);
    }
    expect(sameOperationFrame('EPSG:4326', 'EPSG:4978')).toBe(true);
    expect(sameOperationFrame('EPSG:4326', 'EPSG:4148')).toBe(false);
    expect(sameOperationFrame('EPSG:9999999', 'EPSG:9999999')).toBe(true);
  });

  it('joins every ITRF realisation with ITRF2020', () => {
    for (const year of ['88', '89', '90', '91', '92', '93', '94', '96', '97', '2000', '2005', '2008', '2014']) {
      const found = OPERATIONS.filter((o) => o.from.name === `ITRF${year}` && o.to.name === 'ITRF2020');
      expect(found.length).toBe(1);
    }
  });

  it('finds nothing within a frame, and nothing for systems it does not know', () => {
    expect(codes('EPSG:4326', 'EPSG:4979')).toEqual([]);
    expect(codes('EPSG:4222', 'EPSG:31467')).toEqual([]);
  });

  it('refuses a code that is near to none with the way to give parameters', () => {
    const problem = operationByCode('the usual one').problems[0];
    expect(problem?.code).toBe('operation-unknown');
    expect(problem?.received).toBe('the usual one');
    expect(problem?.hint).toBe('give the parameters in a file with --shift');
  });

  it('refuses an unknown code with the nearest one', () => {
    const problem = operationByCode('EPSG:1503').problems[0];
    expect(problem?.code).toBe('operation-unknown');
    expect(problem?.hint).toMatch(/EPSG:150[45]/);
    expect(valueOf(operationByCode(' epsg:1504 ')).name).toBe('Cape to Hartebeesthoek94 (1)');
  });
});

describe('the table', () => {
  it('has each code once, a method that fits its entry, and rates only with a reference epoch', () => {
    expect(new Set(OPERATIONS.map((o) => o.code)).size).toBe(OPERATIONS.length);
    for (const o of OPERATIONS) {
      const entry = shiftMethodEntry(o.shift.method);
      expect([entry.geocentricCode, entry.geographic3dCode, entry.geographic2dCode]).toContain(o.methodCode);
      expect(o.shift.rates === null).toBe(o.shift.referenceEpochYear === null);
      expect(entry.timeDependent).toBe(o.shift.rates !== null);
    }
  });

  it('is consistent: two published ways to ITRF2020 differ by less than 2 mm at the epochs of both', () => {
    const direct = OPERATIONS.filter((o) => o.to.name === 'ITRF2020');
    const point = { xM: 5064032.2, yM: 2724721.0, zM: -2752950.8 };
    let ways = 0;
    for (const first of OPERATIONS) {
      const second = direct.find((o) => o.from === first.to);
      const straight = direct.find((o) => o.from === first.from);
      if (second === undefined || straight === undefined || first.methodCode !== 1053) continue;
      for (const epoch of [2010, 2020]) {
        const middle = valueOf(applyShift(first.shift, point, epoch, 'forward'));
        const long = valueOf(applyShift(second.shift, middle, epoch, 'forward'));
        expect(apartM(long, valueOf(applyShift(straight.shift, point, epoch, 'forward')))).toBeLessThan(0.002);
      }
      ways += 1;
    }
    expect(ways).toBeGreaterThan(20);
  });

  it('is consistent: ITRF2014 to GDA94 is ITRF2014 to GDA2020 and then back by 8048', () => {
    const through = (
      code: string,
      p: GeocentricPoint,
      epoch: number | null,
      direction: 'forward' | 'inverse',
    ): GeocentricPoint => valueOf(applyShift(valueOf(operationByCode(code)).shift, p, epoch, direction));
    const point = { xM: -4052051.7643, yM: 4212836.2017, zM: -2545106.0245 };
    for (const epoch of [2020, 2026.9]) {
      const two = through('EPSG:8048', through('EPSG:8049', point, epoch, 'forward'), null, 'inverse');
      expect(apartM(two, through('EPSG:9682', point, epoch, 'forward'))).toBeLessThan(5e-6);
    }
  });
});

describe.skipIf(!hasProgram('projinfo'))('the registry as projinfo tells it (skipped where projinfo is absent)', () => {
  it('has the parameters of every operation of the table', () => {
    for (const o of OPERATIONS) {
      const text = runProgram('projinfo', ['-q', '-k', 'operation', '-o', 'PROJ', '--single-line', o.code], '').join(
        ' ',
      );
      const value = (key: string): number => {
        const found = new RegExp(`\\+${key}=(\\S+)`).exec(text.replace(/.*\+proj=helmert/, ''));
        return found === null ? 0 : Number(found[1]);
      };
      const { parameters: p, rates: r } = o.shift;
      const expected: readonly (readonly [string, number])[] = [
        ['x', p.txM],
        ['y', p.tyM],
        ['z', p.tzM],
        ['rx', p.rxArcsec],
        ['ry', p.ryArcsec],
        ['rz', p.rzArcsec],
        ['s', p.dsPpm],
        ['dx', r?.txMPerYear ?? 0],
        ['dy', r?.tyMPerYear ?? 0],
        ['dz', r?.tzMPerYear ?? 0],
        ['drx', r?.rxArcsecPerYear ?? 0],
        ['dry', r?.ryArcsecPerYear ?? 0],
        ['drz', r?.rzArcsecPerYear ?? 0],
        ['ds', r?.dsPpmPerYear ?? 0],
        ['t_epoch', o.shift.referenceEpochYear ?? 0],
      ];
      for (const [key, number] of expected) {
        expect(Math.abs(value(key) - number), `${o.code} ${key}`).toBeLessThanOrEqual(1e-12 + 1e-9 * Math.abs(number));
      }
      if (text.includes('+convention=')) {
        expect(text.includes('position_vector'), o.code).toBe(
          shiftMethodEntry(o.shift.method).convention === 'position-vector',
        );
      }
    }
  });
});

describe('the area of an operation', () => {
  it('holds its edges, longitudes of 0 to 360, boxes over the 180th meridian, and the whole world', () => {
    const box = { southDeg: -20, westDeg: 177, northDeg: -16, eastDeg: -178, description: 'invented' };
    expect(isInsideShiftArea(box, -16, 177)).toBe(true);
    expect(isInsideShiftArea(box, -18, 181)).toBe(true);
    expect(isInsideShiftArea(box, -18, -180)).toBe(true);
    expect(isInsideShiftArea(box, -18, 0)).toBe(false);
    expect(isInsideShiftArea({ ...box, eastDeg: 180 }, -18, -180)).toBe(true);
    expect(isInsideShiftArea(valueOf(operationByCode('EPSG:9991')).shift.area ?? box, 89, 359)).toBe(true);
    expect(isInsideShiftArea(box, NaN, 178)).toBe(false);
  });
});
