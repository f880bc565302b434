import { describe, expect, it } from 'vitest';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import { readGtx } from '../../../src/io/grids/gtx-read.js';
import { gtxBytes } from '../../support/gtx-bytes.js';
import { codes, value } from '../support.js';

/**
 * The first row and one node of the small grid of PROJ-GIE, nkgrf03vel_realigned_z_extract.gtx
 * (O-25); the other nodes are not published, and stand here without data.
 */
const EXTRACT = {
  southDeg: 62 + 5 / 6,
  westDeg: 21,
  latitudeStepDeg: 1 / 12,
  longitudeStepDeg: 1 / 6,
  rows: [
    [8.30389595, 8.253583908, 8.203262329, 8.142932892, 8.07259655],
    [null, null, null, null, null],
    [null, null, null, 8.319002151, null],
    [null, null, null, null, null],
    [null, null, null, null, null],
  ],
};

describe('readGtx', () => {
  it('reads rows from south to north and columns from west to east (PROJ-GIE, O-25)', () => {
    const bytes = gtxBytes(EXTRACT);
    expect(bytes).toHaveLength(140);
    const grid = { name: 'extract', sha256: null, ...value(readGtx(bytes)) };
    const model = value(createGeoidHeight(grid, 'bilinear'));
    expect(model.heightAt(63, 21.5)).toBeCloseTo(8.319002151, 6);
    expect(model.heightAt(62.833333333, 21)).toBeCloseTo(8.30389595, 6);
    expect(model.heightAt(62 + 5 / 6, 21 + 4 / 6)).toBeCloseTo(8.07259655, 6);
    expect(model.heightAt(62 + 5 / 6, 21.25)).toBeCloseTo((8.253583908 + 8.203262329) / 2, 6);
    expect(model.statusAt(62.9, 21.1)).toBe('nodata');
  });

  it('reads bytes that start anywhere in their buffer', () => {
    const padded = Buffer.concat([Buffer.alloc(3), gtxBytes(EXTRACT)]).subarray(3);
    expect(value(readGtx(padded)).levels[0]?.rows).toBe(5);
  });

  it.each([
    ['no bytes', (): Buffer => Buffer.alloc(0)],
    ['a header cut off', (bytes: Buffer): Buffer => bytes.subarray(0, 39)],
    ['a header alone', (bytes: Buffer): Buffer => bytes.subarray(0, 40)],
    ['a file a byte short', (bytes: Buffer): Buffer => bytes.subarray(0, -1)],
    ['a file with bytes after its nodes', (bytes: Buffer): Buffer => Buffer.concat([bytes, Buffer.alloc(4)])],
    [
      'rows that reach beyond the pole',
      (bytes: Buffer): Buffer => changed(bytes, (copy) => copy.writeDoubleBE(89.9, 0)),
    ],
    ['a step of nothing', (bytes: Buffer): Buffer => changed(bytes, (copy) => copy.writeDoubleBE(0, 16))],
    ['a negative count', (bytes: Buffer): Buffer => changed(bytes, (copy) => copy.writeInt32BE(-5, 32))],
  ])('refuses %s', (_name, spoil) => {
    expect(codes(readGtx(spoil(gtxBytes(EXTRACT))))).toEqual(['grid-unreadable']);
  });

  it('refuses a file in the other byte order, and asks whether it is one', () => {
    const bytes = gtxBytes(EXTRACT);
    bytes.subarray(0, 32).swap64();
    bytes.subarray(32).swap32();
    const outcome = readGtx(bytes);
    expect(outcome.ok).toBe(false);
    expect(outcome.problems[0]?.hint).toContain('big-endian');
  });

  it('refuses a header of more nodes than the bound before it takes memory for them', () => {
    const huge = changed(gtxBytes(EXTRACT), (copy) => {
      copy.writeDoubleBE(1e-8, 16);
      copy.writeDoubleBE(1e-8, 24);
      copy.writeInt32BE(2 ** 31 - 1, 32);
      copy.writeInt32BE(2 ** 31 - 1, 36);
    });
    expect(codes(readGtx(huge))).toEqual(['grid-unsupported']);
  });
});

function changed(bytes: Buffer, change: (copy: Buffer) => unknown): Buffer {
  const copy = Buffer.from(bytes);
  change(copy);
  return copy;
}
