import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { everywhere } from '../../../src/core/frames/grids/way-in-space.js';
import { operationByCode } from '../../../src/core/frames/operations/operations.js';
import { createShiftFunction } from '../../../src/core/frames/shifts/shift-function.js';
import { carriedGeoid } from '../../../src/core/geoid/carried-geoid.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import { gridLevelFrom } from '../../../src/core/geoid/grid-level-from.js';
import { loadGeographicSystem } from '../../../src/files/systems/load-systems.js';
import { seededRandom } from '../../support/seeded-random.js';
import { valueOf } from '../../support/shift-of-row.js';

// EPSG:1504: Cape to Hartebeesthoek94, a translation of (-134.73, -110.92, -292.66) m: 90 m along the ground.
const { shift } = valueOf(operationByCode('EPSG:1504'));
const cape = valueOf(loadGeographicSystem('EPSG:4222')).ellipsoid;
const toCape = valueOf(createShiftFunction(shift, null, 'inverse'));
const toHart = valueOf(createShiftFunction(shift, null, 'forward'));

/** A geoid of Hartebeesthoek94 that rises 30 m in a degree, as none does. */
const level = valueOf(
  gridLevelFrom(
    { southDeg: -30, westDeg: 20, latitudeStepDeg: 1, longitudeStepDeg: 1, rows: 3, columns: 3 },
    Float64Array.from([10, 40, 30, 25, 55, 20, 60, 30, 35]),
  ),
);
const geoid = valueOf(
  createGeoidHeight(
    { name: 'steep', sha256: null, frame: 'EPSG:4148', precisionNote: null, levels: [level] },
    'bilinear',
  ),
);
const carried = carriedGeoid(geoid, {
  toWanted: everywhere(toCape),
  toGeoid: everywhere(toHart),
  wantedEllipsoid: cape,
  geoidEllipsoid: GRS80,
});

describe('a geoid carried into another frame', () => {
  it('gives the orthometric heights of its own frame, to a hundredth of a millimetre up to 3000 m', () => {
    const random = seededRandom(1504);
    let read = 0;
    let wrongPlace = 0;
    for (let i = 0; i < 300; i += 1) {
      const place = { latitudeDeg: random.between(-29.9, -28.1), longitudeDeg: random.between(20.1, 21.9) };
      const h = random.between(-100, 3000);
      // H by the definition: h less N, both in the frame of the geoid.
      const orthometric = h - geoid.heightAt(place.latitudeDeg, place.longitudeDeg)!;
      const at = geodeticToGeocentric({ ...place, ellipsoidalHeightM: h }, GRS80);
      const shifted = { xM: 0, yM: 0, zM: 0 };
      toCape(at.xM, at.yM, at.zM, shifted);
      const there = geocentricToGeodetic(shifted, cape);
      const n = carried.heightAt(there.latitudeDeg, there.longitudeDeg)!;
      read = Math.max(read, Math.abs(there.ellipsoidalHeightM - n - orthometric));
      const atWrongPlace = geoid.heightAt(there.latitudeDeg, there.longitudeDeg)!;
      wrongPlace = Math.max(
        wrongPlace,
        Math.abs(geoid.heightAt(place.latitudeDeg, place.longitudeDeg)! - atWrongPlace),
      );
    }
    expect(read).toBeLessThan(3e-5);
    // What reading it at the place of the other frame would do to this geoid.
    expect(wrongPlace).toBeGreaterThan(0.01);
  });

  it('ends where the grid ends in its own frame', () => {
    expect(carried.heightAt(-40, 21)).toBeNull();
    expect(carried.statusAt(-40, 21)).toBe('outside');
    expect(carried.statusAt(-29, 21)).toBe('inside');
    expect(carried.heightAt(Number.NaN, 21)).toBeNull();
    expect(carried.statusAt(91, 21)).toBe('outside');
    // 29 S of the grid is 0.9 seconds from it in the other frame: its edge is too.
    expect(carried.statusAt(-30, 21)).not.toBe(geoid.statusAt(-30, 21));
  });
});

describe('the ends of a carried geoid', () => {
  const round = valueOf(
    gridLevelFrom(
      { southDeg: -90, westDeg: -180, latitudeStepDeg: 45, longitudeStepDeg: 45, rows: 5, columns: 8 },
      new Float64Array(40).fill(20),
    ),
  );
  const level20 = valueOf(
    createGeoidHeight(
      { name: 'level', sha256: null, frame: 'EPSG:4148', precisionNote: null, levels: [round] },
      'bilinear',
    ),
  );
  // The same frame and ellipsoid: nothing is carried.
  const same = (xM: number, yM: number, zM: number, out: { xM: number; yM: number; zM: number }): boolean => {
    Object.assign(out, { xM, yM, zM });
    return true;
  };
  const at = carriedGeoid(level20, {
    toWanted: same,
    toGeoid: same,
    wantedEllipsoid: GRS80,
    geoidEllipsoid: GRS80,
  });

  it.each([
    [90, 10, 'inside'],
    [-90, 10, 'inside'],
    [90.5, 10, 'outside'],
    [-90.5, 10, 'outside'],
    [NaN, 10, 'outside'],
    [10, NaN, 'outside'],
    [10, Infinity, 'outside'],
  ] as const)('are the poles: %d, %d is %s', (latitudeDeg, longitudeDeg, status) => {
    expect(at.statusAt(latitudeDeg, longitudeDeg)).toBe(status);
    if (status === 'outside') expect(at.heightAt(latitudeDeg, longitudeDeg)).toBeNull();
    else expect(at.heightAt(latitudeDeg, longitudeDeg)).toBeCloseTo(20, 6);
  });
});
