import { describe, expect, it, vi } from 'vitest';
import { createGridShift } from '../../../src/core/grid/plane/grid-shift.js';
import { readNtv2 } from '../../../src/io/grids/ntv2-read.js';
import { evenGrid, ntv2Bytes } from '../../support/ntv2-bytes.js';
import { codes, value } from '../support.js';

const SLOPED = {
  ...evenGrid(0, 0, 'SLOPED'),
  nodes: [
    [1, 10],
    [2, 20],
    [3, 30],
    [4, 40],
    [5, 50],
    [6, 60],
    [7, 70],
    [8, 80],
    [9, 90],
  ] as const,
};

describe('readNtv2', () => {
  it('turns columns from east to west and shifts positive west into east positive', () => {
    const { levels, fromName, toName } = value(readNtv2(ntv2Bytes([SLOPED])));
    const [level] = levels;
    expect([fromName, toName]).toEqual(['OLD', 'NEW']);
    expect([level?.southDeg, level?.westDeg, level?.rows, level?.columns]).toEqual([-30, 20, 3, 3]);
    // The first node of the file is the south-east corner.
    expect(level?.latitudeArcsec[2]).toBe(1);
    expect(level?.longitudeArcsec[2]).toBe(-10);
    expect(level?.longitudeArcsec[0]).toBe(-30);
  });

  it('reads big-endian files and minutes', () => {
    const { levels } = value(readNtv2(ntv2Bytes([evenGrid(1.5, 3)], false)));
    expect(levels[0]?.latitudeArcsec[4]).toBe(1.5);
    const minutes = { ...evenGrid(0.5, 0.25), south: -1800, north: -1680, east: -1320, west: -1200, step: 60 };
    const inMinutes = value(readNtv2(ntv2Bytes([minutes], true, 'MINUTES'))).levels[0];
    expect([
      inMinutes?.southDeg,
      inMinutes?.westDeg,
      inMinutes?.latitudeArcsec[0],
      inMinutes?.longitudeArcsec[0],
    ]).toEqual([-30, 20, 30, -15]);
  });

  it('refuses what is no grid, cut off, or does not fit its own limits', () => {
    const bytes = ntv2Bytes([evenGrid(1, 1)]);
    expect(codes(readNtv2(bytes.subarray(0, 100)))).toEqual(['grid-unreadable']);
    expect(codes(readNtv2(bytes.subarray(0, bytes.length - 1)))).toEqual(['grid-unreadable']);
    expect(codes(readNtv2(Buffer.alloc(1000)))).toEqual(['grid-unreadable']);
    expect(codes(readNtv2(ntv2Bytes([{ ...evenGrid(1, 1), step: 1800 }])))).toEqual(['grid-unreadable']);
    expect(codes(readNtv2(ntv2Bytes([evenGrid(1, 1)], true, 'RADIANS')))).toEqual(['grid-unsupported']);
  });
});

describe('createGridShift', () => {
  const out = { latitudeDeg: 0, longitudeDeg: 0 };

  it('adds the shift of the file: north and west positive there', () => {
    const shift = createGridShift(value(readNtv2(ntv2Bytes([evenGrid(36, 72)]))).levels);
    expect(shift.forward(-29, 21, out)).toBe(true);
    expect(out.latitudeDeg).toBeCloseTo(-28.99, 12);
    expect(out.longitudeDeg).toBeCloseTo(20.98, 12);
  });

  it('interpolates between four nodes, and comes back', () => {
    const shift = createGridShift(value(readNtv2(ntv2Bytes([SLOPED]))).levels);
    expect(shift.forward(-29.5, 20.5, out)).toBe(true);
    // Nodes of the south-west cell: latitude shifts 3 and 2 in the south, 6 and 5 in the north.
    expect((out.latitudeDeg + 29.5) * 3600).toBeCloseTo(4, 6);
    expect((out.longitudeDeg - 20.5) * 3600).toBeCloseTo(-40, 5);
    expect(shift.inverse(out.latitudeDeg, out.longitudeDeg, out)).toBe(true);
    expect(out.latitudeDeg).toBeCloseTo(-29.5, 10);
    expect(out.longitudeDeg).toBeCloseTo(20.5, 10);
  });

  it('takes the grid with the smallest cells, in whatever order the file has them', () => {
    const fine = {
      ...evenGrid(100, 0, 'FINE'),
      south: -29.5 * 3600,
      north: -29 * 3600,
      east: -21 * 3600,
      west: -20.5 * 3600,
      step: 900,
    };
    for (const grids of [
      [evenGrid(1, 0), fine],
      [fine, evenGrid(1, 0)],
    ]) {
      const shift = createGridShift(value(readNtv2(ntv2Bytes(grids))).levels);
      expect(shift.forward(-29.2, 20.8, out)).toBe(true);
      expect((out.latitudeDeg + 29.2) * 3600).toBeCloseTo(100, 6);
      expect(shift.forward(-28.5, 21.5, out)).toBe(true);
      expect((out.latitudeDeg + 28.5) * 3600).toBeCloseTo(1, 6);
    }
  });

  it('holds its edges and corners, and writes nothing', () => {
    const log = vi.spyOn(console, 'log');
    const shift = createGridShift(value(readNtv2(ntv2Bytes([evenGrid(1, 0)]))).levels);
    for (const [latitude, longitude] of [
      [-28, 21],
      [-28, 20],
      [-28, 22],
      [-30, 20],
      [-29, 22],
    ] as const) {
      expect(shift.forward(latitude, longitude, out)).toBe(true);
      expect((out.latitudeDeg - latitude) * 3600).toBeCloseTo(1, 6);
      expect(out.longitudeDeg).toBeCloseTo(longitude, 12);
    }
    expect(shift.inverse(-30, 21, out)).toBe(false);
    expect(log).not.toHaveBeenCalled();
  });

  it('says no outside and leaves the record alone', () => {
    const shift = createGridShift(value(readNtv2(ntv2Bytes([evenGrid(1, 0)]))).levels);
    out.latitudeDeg = 7;
    for (const [latitude, longitude] of [
      [-27.9, 21],
      [-30.1, 21],
      [-29, 19.9],
      [-29, 22.1],
    ] as const) {
      expect(shift.forward(latitude, longitude, out)).toBe(false);
      expect(shift.inverse(latitude, longitude, out)).toBe(false);
    }
    expect(out.latitudeDeg).toBe(7);
  });

  it('does not come back from where the shift leads out of the grid', () => {
    // Two degrees north everywhere: no place of the grid is moved to its southern part, and none is shifted from beyond it.
    const shift = createGridShift(value(readNtv2(ntv2Bytes([evenGrid(7200, 0, 'FAR')]))).levels);
    out.latitudeDeg = 7;
    expect(shift.inverse(-29.5, 21, out)).toBe(false);
    expect(out.latitudeDeg).toBe(7);
  });

  it('does not come back where neighbouring nodes would fold the ground', () => {
    const folded = {
      ...evenGrid(0, 0, 'FOLDED'),
      nodes: Array.from({ length: 9 }, (_, i) => [Math.floor(i / 3) % 2 === 0 ? 3000 : -3000, 0] as const),
    };
    const shift = createGridShift(value(readNtv2(ntv2Bytes([folded]))).levels);
    let refused = 0;
    for (let latitudeDeg = -29.9; latitudeDeg < -28; latitudeDeg += 0.1) {
      if (!shift.inverse(latitudeDeg, 21, out)) {
        refused += 1;
        continue;
      }
      const back = { latitudeDeg: NaN, longitudeDeg: NaN };
      expect(shift.forward(out.latitudeDeg, out.longitudeDeg, back)).toBe(true);
      expect(back.latitudeDeg).toBeCloseTo(latitudeDeg, 9);
    }
    expect(refused).toBeGreaterThan(0);
  });

  it('keeps grids of different content apart', () => {
    const one = createGridShift(value(readNtv2(ntv2Bytes([evenGrid(1, 0)]))).levels);
    const other = createGridShift(value(readNtv2(ntv2Bytes([evenGrid(2, 0)]))).levels);
    one.forward(-29, 21, out);
    expect((out.latitudeDeg + 29) * 3600).toBeCloseTo(1, 6);
    other.forward(-29, 21, out);
    expect((out.latitudeDeg + 29) * 3600).toBeCloseTo(2, 6);
  });
});
