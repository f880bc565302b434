import { describe, expect, it } from 'vitest';
import { gridLevelFrom } from '../../../src/core/geoid/grid-level-from.js';
import type { GridShape } from '../../../src/core/geoid/grid-level-from.js';
import type { GeoidGrid, GridLevel } from '../../../src/core/geoid/geoid-grid.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import type { GeoidModel } from '../../../src/core/geoid/geoid-height.js';
import { geoidProblem } from '../../../src/core/geoid/geoid-problem.js';
import type { GeoidInterpolation } from '../../../src/records/session.js';
import type { Outcome } from '../../../src/records/outcome.js';
import { seededRandom } from '../../support/seeded-random.js';

const KINDS: readonly GeoidInterpolation[] = ['bilinear', 'biquadratic', 'bicubic'];
const DEGREE = { bilinear: 1, biquadratic: 2, bicubic: 3 } as const;
const SHAPE: GridShape = {
  southDeg: -35,
  westDeg: 16,
  latitudeStepDeg: 1 / 24,
  longitudeStepDeg: 1 / 12,
  rows: 9,
  columns: 11,
};

function value<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.value;
}

function levelOf(
  shape: GridShape,
  height: (latitudeDeg: number, longitudeDeg: number, row: number, column: number) => number,
): GridLevel {
  const values = new Float64Array(shape.rows * shape.columns);
  for (let row = 0; row < shape.rows; row += 1) {
    for (let column = 0; column < shape.columns; column += 1) {
      values[row * shape.columns + column] = height(
        shape.southDeg + row * shape.latitudeStepDeg,
        shape.westDeg + column * shape.longitudeStepDeg,
        row,
        column,
      );
    }
  }
  return value(gridLevelFrom(shape, values));
}

function gridOf(...levels: GridLevel[]): GeoidGrid {
  return { name: 'made up', sha256: null, frame: null, precisionNote: null, levels };
}

function modelOf(kind: GeoidInterpolation, ...levels: GridLevel[]): GeoidModel {
  return value(createGeoidHeight(gridOf(...levels), kind));
}

/** A polynomial of a degree in each direction, with no symmetry to hide behind. */
function polynomial(degree: number) {
  return (latitudeDeg: number, longitudeDeg: number): number => {
    const y = latitudeDeg + 34.8;
    const x = longitudeDeg - 16.3;
    let sum = 0;
    for (let i = 0; i <= degree; i += 1)
      for (let j = 0; j <= degree; j += 1) sum += (1 + i - 0.7 * j + 0.3 * i * j) * y ** i * x ** j;
    return 10 * sum;
  };
}

describe.each(KINDS)('%s interpolation', (kind) => {
  it('reproduces a polynomial of its degree everywhere, to the edges', () => {
    const truth = polynomial(DEGREE[kind]);
    const model = modelOf(kind, levelOf(SHAPE, truth));
    const random = seededRandom(1);
    let worst = 0;
    for (let i = 0; i < 2000; i += 1) {
      const latitudeDeg = random.between(-35, -35 + 8 / 24);
      const longitudeDeg = random.between(16, 16 + 10 / 12);
      worst = Math.max(worst, Math.abs(model.heightAt(latitudeDeg, longitudeDeg)! - truth(latitudeDeg, longitudeDeg)));
    }
    expect(worst).toBeLessThan(1e-8);
  });

  it('does not reproduce a polynomial of the next degree', () => {
    const truth = polynomial(DEGREE[kind] + 1);
    const model = modelOf(kind, levelOf(SHAPE, truth));
    expect(Math.abs(model.heightAt(-34.9, 16.29)! - truth(-34.9, 16.29))).toBeGreaterThan(1e-8);
  });

  it('gives the very value of a node at the node', () => {
    const level = levelOf(SHAPE, (_latitude, _longitude, row, column) => Math.sin(7 * row + 3 * column) * 40);
    const model = modelOf(kind, level);
    for (let row = 0; row < SHAPE.rows; row += 1) {
      for (let column = 0; column < SHAPE.columns; column += 1) {
        const height = model.heightAt(
          SHAPE.southDeg + row * SHAPE.latitudeStepDeg,
          SHAPE.westDeg + column * SHAPE.longitudeStepDeg,
        );
        expect(height).toBe(level.values[row * SHAPE.columns + column]);
      }
    }
  });

  it('takes a longitude of either turn', () => {
    const level = levelOf(SHAPE, polynomial(1));
    const model = modelOf(kind, level);
    expect(model.heightAt(-34.8, 16.4 - 360)).toBeCloseTo(model.heightAt(-34.8, 16.4)!, 9);
    const west = modelOf(
      kind,
      levelOf({ ...SHAPE, westDeg: 343 }, (_latitude, _longitude, row, column) => row + column),
    );
    expect(west.heightAt(-34.8, -16.6)).toBeCloseTo(west.heightAt(-34.8, 343.4)!, 9);
  });

  it('closes round the Earth, without a seam, whether or not the last column repeats the first', () => {
    const wave = (latitudeDeg: number, longitudeDeg: number): number =>
      latitudeDeg / 9 + 20 * Math.cos((longitudeDeg * Math.PI) / 180);
    const open = levelOf(
      { southDeg: -90, westDeg: -180, latitudeStepDeg: 10, longitudeStepDeg: 10, rows: 19, columns: 36 },
      wave,
    );
    const closed = levelOf(
      { southDeg: -90, westDeg: 0, latitudeStepDeg: 10, longitudeStepDeg: 10, rows: 19, columns: 37 },
      wave,
    );
    expect([open.wrapsLongitude, open.turnColumns, closed.turnColumns]).toEqual([true, 36, 36]);
    const [a, b] = [modelOf(kind, open), modelOf(kind, closed)];
    for (const longitudeDeg of [-180, -179.99, -175, -0.5, 0, 4, 175, 179.999, 180, 184.5, 355, 359.999999, 360]) {
      expect(a.heightAt(33.3, longitudeDeg)).toBeCloseTo(b.heightAt(33.3, longitudeDeg)!, 9);
      expect(a.heightAt(33.3, longitudeDeg)).toBeCloseTo(a.heightAt(33.3, longitudeDeg + 360)!, 9);
    }
    expect(Math.abs(a.heightAt(33.3, 179.9999999)! - a.heightAt(33.3, -179.9999999)!)).toBeLessThan(1e-6);
    expect(a.heightAt(90, 77)).not.toBeNull();
    expect(a.heightAt(-90, -77)).not.toBeNull();
  });

  it('takes positions up to a billionth of a degree outside an edge as on it, and none farther', () => {
    // O-25: an edge on a sixth of a degree, written with nine decimals, falls outside by rounding.
    const shape: GridShape = {
      southDeg: 62 + 5 / 6,
      westDeg: 21,
      latitudeStepDeg: 1 / 12,
      longitudeStepDeg: 1 / 6,
      rows: 5,
      columns: 5,
    };
    const level = levelOf(shape, (_latitude, _longitude, row, column) => 8 + row - 0.1 * column);
    const model = modelOf(kind, level);
    expect(model.heightAt(62.833333333, 21)).toBe(8);
    expect(model.heightAt(63.1666666667, 21.6666666667)).toBeCloseTo(11.6, 12);
    expect(model.heightAt(62.9, 21 - 5e-10)).toBe(model.heightAt(62.9, 21));
    for (const [latitudeDeg, longitudeDeg] of [
      [62.83333333, 21],
      [63.16666667, 21],
      [62.9, 20.99999999],
      [62.9, 21.66666667],
      [62.9, 200],
    ] as const) {
      expect(model.heightAt(latitudeDeg, longitudeDeg)).toBeNull();
      expect(model.statusAt(latitudeDeg, longitudeDeg)).toBe('outside');
    }
  });

  it('gives no height where a node it uses has no data, and one where that node carries no weight', () => {
    const holed = levelOf(SHAPE, (_latitude, _longitude, row, column) => (row === 4 && column === 5 ? Number.NaN : 30));
    const model = modelOf(kind, holed);
    const at = (row: number, column: number) => [SHAPE.southDeg + row / 24, SHAPE.westDeg + column / 12] as const;
    expect(model.statusAt(...at(4, 5))).toBe('nodata');
    expect(model.statusAt(...at(3.6, 4.7))).toBe('nodata');
    expect(model.heightAt(...at(3.6, 4.7))).toBeNull();
    expect(model.heightAt(...at(4, 4))).toBeCloseTo(30, 12);
    expect(model.heightAt(...at(3, 4.5))).toBeCloseTo(30, 12);
    expect(model.heightAt(...at(1.5, 1.5))).toBeCloseTo(30, 12);
  });

  it('takes what is not a number as outside', () => {
    const model = modelOf(
      kind,
      levelOf(SHAPE, () => 1),
    );
    for (const bad of [Number.NaN, Infinity, -Infinity]) {
      expect(model.statusAt(bad, 16.2)).toBe('outside');
      expect(model.statusAt(-34.9, bad)).toBe('outside');
    }
    const round = modelOf(
      kind,
      levelOf({ southDeg: -90, westDeg: 0, latitudeStepDeg: 10, longitudeStepDeg: 10, rows: 19, columns: 36 }, () => 1),
    );
    for (const bad of [Number.NaN, Infinity]) expect(round.statusAt(0, bad)).toBe('outside');
  });

  it('says inside where it gives a height', () => {
    const model = modelOf(
      kind,
      levelOf(SHAPE, () => 1),
    );
    expect(model.statusAt(-34.9, 16.2)).toBe('inside');
    expect(model.heightAt(-34.9, 16.2)).toBeCloseTo(1, 12);
  });

  it('takes a longitude a hair short of the full turn as the first column', () => {
    const model = modelOf(
      kind,
      levelOf(
        { southDeg: -90, westDeg: 0, latitudeStepDeg: 10, longitudeStepDeg: 10, rows: 19, columns: 36 },
        (_latitude, _longitude, _row, column) => column,
      ),
    );
    expect(model.heightAt(0, -2e-9)).toBe(0);
    expect(model.heightAt(0, 360 - 2e-9)).toBe(0);
  });
});

describe('continuity', () => {
  const rough = levelOf(SHAPE, (_latitude, _longitude, row, column) => Math.sin(7 * row * column + 3 * column) * 40);

  function largestStep(kind: GeoidInterpolation): number {
    const model = modelOf(kind, rough);
    const hair = 1e-6;
    let worst = 0;
    for (let i = 1; i < 20; i += 1) {
      const longitudeDeg = 16 + (i / 2) * SHAPE.longitudeStepDeg;
      const [west, east] = [model.heightAt(-34.87, longitudeDeg - hair)!, model.heightAt(-34.87, longitudeDeg + hair)!];
      worst = Math.max(worst, Math.abs(east - west));
    }
    return worst;
  }

  it('holds for bilinear and bicubic across nodes and half-way lines', () => {
    expect(largestStep('bilinear')).toBeLessThan(0.02);
    expect(largestStep('bicubic')).toBeLessThan(0.02);
  });

  it('fails for biquadratic at half-way lines of a rough field, as its page says', () => {
    expect(largestStep('biquadratic')).toBeGreaterThan(1);
  });
});

describe('several levels', () => {
  const coarse = levelOf({ ...SHAPE, latitudeStepDeg: 0.1, longitudeStepDeg: 0.1 }, () => 10);
  const fine = levelOf(
    { ...SHAPE, southDeg: -34.9, westDeg: 16.1, latitudeStepDeg: 0.01, longitudeStepDeg: 0.01 },
    (_latitude, _longitude, row) => (row === 0 ? Number.NaN : 20),
  );

  it('give the height of the first, finest, that contains the position', () => {
    const model = modelOf('bilinear', fine, coarse);
    expect(model.heightAt(-34.85, 16.15)).toBeCloseTo(20, 12);
    expect(model.heightAt(-34.85, 16.25)).toBeCloseTo(10, 12);
    expect(model.statusAt(-33, 16.25)).toBe('outside');
  });

  it('never fill a hole of the finest from a coarser one', () => {
    expect(modelOf('bilinear', fine, coarse).statusAt(-34.895, 16.15)).toBe('nodata');
  });
});

describe('createGeoidHeight', () => {
  it('refuses a grid with fewer rows or columns than the interpolation needs', () => {
    const small = levelOf({ ...SHAPE, rows: 3, columns: 3 }, () => 1);
    expect(createGeoidHeight(gridOf(small), 'biquadratic').ok).toBe(true);
    const refused = createGeoidHeight(gridOf(small), 'bicubic');
    expect(refused.problems.map((problem) => problem.code)).toEqual(['grid-unsupported']);
    expect(refused.ok).toBe(false);
  });
});

describe('geoidProblem', () => {
  it('keeps apart a position outside and one without data, and shows the position and the extent', () => {
    const grid = gridOf(levelOf(SHAPE, () => 1));
    const outside = geoidProblem('outside', 52.5, 13.4, grid);
    expect(outside.code).toBe('grid-outside');
    expect(outside.message).toContain('52.5');
    expect(outside.expected).toBe('latitude -35 to -34.666667, longitude 16 to 16.833333');
    expect(geoidProblem('nodata', -34.9, 16.1, grid).code).toBe('grid-nodata');
    const belt = gridOf(
      levelOf({ southDeg: -60, westDeg: 0, latitudeStepDeg: 10, longitudeStepDeg: 10, rows: 13, columns: 36 }, () => 1),
    );
    expect(geoidProblem('outside', 75, 13.4, belt).expected).toBe('latitude -60 to 60, all longitudes');
  });
});
