import { describe, expect, it } from 'vitest';
import { gridLevelFrom, gridShapeProblem } from '../../../src/core/geoid/grid-level-from.js';
import type { GridShape } from '../../../src/core/geoid/grid-level-from.js';
import type { GeoidGrid } from '../../../src/core/geoid/geoid-grid.js';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import type { GeoidModel } from '../../../src/core/geoid/geoid-height.js';
import { geoidProblem } from '../../../src/core/geoid/geoid-problem.js';
import { geoidStencil } from '../../../src/core/geoid/geoid-stencil.js';
import { geoidTestValue } from '../../../src/core/geoid/geoid-test-value.js';
import { snapToNode } from '../../../src/core/geoid/grid-stencil.js';
import type { GeoidInterpolation } from '../../../src/records/session.js';
import { valueOf } from '../../support/shift-of-row.js';

// Identities of interpolation, and the ends of what is taken: docs/methods/geoid.md.
const SHAPE: GridShape = { southDeg: 0, westDeg: 0, latitudeStepDeg: 1, longitudeStepDeg: 2, rows: 7, columns: 9 };
/** A height that tells every node from every other. */
const heightOf = (row: number, column: number): number =>
  10 + row + 0.05 * column + 0.01 * ((row * 7 + column * 3) % 5);

function levelOf(change: Partial<GridShape> = {}, unitM = 1, of = heightOf): GeoidGrid['levels'][number] {
  const shape = { ...SHAPE, ...change };
  const values = Float64Array.from({ length: shape.rows * shape.columns }, (_, node) =>
    of(Math.floor(node / shape.columns), node % shape.columns),
  );
  return valueOf(gridLevelFrom(shape, values, unitM));
}
const gridOf = (...levels: GeoidGrid['levels'][number][]): GeoidGrid => ({
  name: 'made up',
  sha256: null,
  frame: null,
  precisionNote: null,
  levels,
});
const modelOf = (kind: GeoidInterpolation, ...levels: GeoidGrid['levels'][number][]): GeoidModel =>
  valueOf(createGeoidHeight(gridOf(...levels), kind));

/** Lagrange's weights of nodes 0, 1 … for a place between them. */
const lagrange = (at: number, width: number): readonly number[] =>
  Array.from({ length: width }, (_, i) =>
    Array.from({ length: width }, (__, j) => (j === i ? 1 : (at - j) / (i - j))).reduce((a, b) => a * b, 1),
  );

describe('the nodes around a place', () => {
  const places = [
    // Latitude, longitude; the rows and columns (two degrees each) that stand around it, by width.
    [2.3, 7, { 2: [2, 3], 3: [1, 3], 4: [1, 2] }],
    [2.7, 8.5, { 2: [2, 4], 3: [2, 3], 4: [1, 3] }],
    [0.1, 0.2, { 2: [0, 0], 3: [0, 0], 4: [0, 0] }],
    [5.9, 15.9, { 2: [5, 7], 3: [4, 6], 4: [3, 5] }],
  ] as const;
  const KINDS = { 2: 'bilinear', 3: 'biquadratic', 4: 'bicubic' } as const;

  it.each(places)(
    'of %d and %d are the cell, the nearest node and its neighbours, or two on each side',
    (lat, lon, at) => {
      for (const width of [2, 3, 4] as const) {
        const model = modelOf(KINDS[width], levelOf());
        const stencil = geoidStencil(model, lat, lon);
        const [row, column] = at[width];
        expect([stencil?.southDeg, stencil?.westDeg]).toEqual([row, 2 * column]);
        expect([stencil?.latitudeStepDeg, stencil?.longitudeStepDeg]).toEqual([1, 2]);
        expect(stencil?.rowsNorth).toBeCloseTo(lat - row, 12);
        expect(stencil?.columnsEast).toBeCloseTo(lon / 2 - column, 12);
        expect(stencil?.heightsM).toEqual(
          Array.from({ length: width }, (_, r) =>
            Array.from({ length: width }, (__, c) => heightOf(row + r, column + c)),
          ),
        );
        // Lagrange's formula of these nodes is the height.
        const [north, east] = [lagrange(lat - row, width), lagrange(lon / 2 - column, width)];
        const sum = (stencil?.heightsM ?? []).flatMap((heights, r) =>
          heights.map((height, c) => height * (north[r] ?? NaN) * (east[c] ?? NaN)),
        );
        expect(sum.reduce((a, b) => a + b, 0)).toBeCloseTo(model.heightAt(lat, lon) ?? NaN, 10);
      }
    },
  );

  it('count from where the grid begins, in metres, and close round the Earth', () => {
    const model = modelOf('bilinear', levelOf({ southDeg: 40, westDeg: -8 }, 0.5));
    expect(geoidStencil(model, 42.25, 1)).toMatchObject({
      southDeg: 42,
      westDeg: 0,
      rowsNorth: 0.25,
      columnsEast: 0.5,
      heightsM: [
        [heightOf(2, 4) / 2, heightOf(2, 5) / 2],
        [heightOf(3, 4) / 2, heightOf(3, 5) / 2],
      ],
    });
    const round = modelOf('bilinear', levelOf({ longitudeStepDeg: 40 }));
    expect(geoidStencil(round, 2, 350)?.heightsM[0]).toEqual([heightOf(2, 8), heightOf(2, 0)]);
  });

  it('are those of the level that is read, and none outside or without data', () => {
    const fine = levelOf({ southDeg: 1, westDeg: 2, latitudeStepDeg: 0.1, longitudeStepDeg: 0.1 });
    const both = modelOf('bilinear', fine, levelOf());
    expect(geoidStencil(both, 1.25, 2.25)?.latitudeStepDeg).toBe(0.1);
    expect(geoidStencil(both, 1.25, 5)?.latitudeStepDeg).toBe(1);
    expect(geoidStencil(both, 3, 2.25)?.latitudeStepDeg).toBe(1);
    // On the south and the west line of the finer one it is still that one.
    expect(geoidStencil(both, 1, 2.25)?.latitudeStepDeg).toBe(0.1);
    expect(geoidStencil(both, 1.25, 2)?.latitudeStepDeg).toBe(0.1);
    expect(geoidStencil(both, 1.05, 2.05)?.latitudeStepDeg).toBe(0.1);
    expect(geoidStencil(both, -1, 5)).toBeNull();
    const holed = levelOf({}, 1, (row, column) => (row === 2 && column === 2 ? NaN : 1));
    expect(geoidStencil(modelOf('bilinear', holed), 2.5, 4.5)).toBeNull();
  });
});

describe('the size that an interpolation needs', () => {
  it.each([
    ['bilinear', 2],
    ['biquadratic', 3],
    ['bicubic', 4],
  ] as const)('of %s is %d rows and as many columns, and as many around the Earth', (kind, width) => {
    const isTaken = (change: Partial<GridShape>): boolean => createGeoidHeight(gridOf(levelOf(change)), kind).ok;
    expect(isTaken({ rows: width, columns: width })).toBe(true);
    expect(isTaken({ rows: width, columns: width, longitudeStepDeg: 360 / width })).toBe(true);
    if (width > 2) {
      expect(isTaken({ rows: width - 1 })).toBe(false);
      expect(isTaken({ columns: width - 1 })).toBe(false);
    }
    // The last column repeats the first: one less in the turn.
    expect(isTaken({ columns: width, longitudeStepDeg: 360 / (width - 1) })).toBe(false);
    expect(
      createGeoidHeight(gridOf(levelOf(), levelOf({ columns: width, longitudeStepDeg: 360 / (width - 1) })), kind).ok,
    ).toBe(false);
  });
});

describe('a position on an edge', () => {
  it('may lie a billionth of a degree outside, and no more', () => {
    const model = modelOf('bilinear', levelOf());
    for (const [latitudeDeg, longitudeDeg] of [
      [-1e-9, 4],
      [-0.95e-9, 4],
      [6 + 0.9e-9, 4],
      [2, -1e-9],
      [2, -0.95e-9],
      [2, 16 + 0.9e-9],
    ] as const)
      expect(model.statusAt(latitudeDeg, longitudeDeg)).toBe('inside');
    for (const [latitudeDeg, longitudeDeg] of [
      [-1.05e-9, 4],
      [6 + 1.05e-9, 4],
      [2, -1.05e-9],
      [2, 16 + 1.05e-9],
    ] as const)
      expect(model.statusAt(latitudeDeg, longitudeDeg)).toBe('outside');
  });

  it('of a grid that begins at 0 is reached by any turn', () => {
    const model = modelOf('bilinear', levelOf());
    expect(model.heightAt(2, 360)).toBe(heightOf(2, 0));
    for (const turns of [-3, -2, -1, 1, 2, 3])
      expect(model.heightAt(2, 10 + 360 * turns)).toBeCloseTo(heightOf(2, 5), 9);
    expect(model.statusAt(2, 390)).toBe('outside');
  });

  it('where the Earth closes is the first column of its own row', () => {
    const round = modelOf('bilinear', levelOf({ longitudeStepDeg: 40 }));
    expect(round.heightAt(2, -2e-9)).toBe(heightOf(2, 0));
    expect(round.heightAt(6, 360 - 2e-9)).toBe(heightOf(6, 0));
  });

  it('is a node within a billionth of a cell', () => {
    expect(snapToNode(5 + 0.95e-9)).toBe(5);
    expect(snapToNode(5 + 1.05e-9)).toBe(5 + 1.05e-9);
    expect(snapToNode(-0.95e-9)).toBe(-0);
    // Nearer than that, and not as near.
    expect(snapToNode(1e-9)).toBe(1e-9);
  });
});

describe('the shape of a grid', () => {
  const small: GridShape = { southDeg: 0, westDeg: 0, latitudeStepDeg: 1, longitudeStepDeg: 1, rows: 2, columns: 2 };
  it.each([
    ['two rows of two', {}],
    ['as many nodes as are taken', { rows: 20_000, columns: 20_000, latitudeStepDeg: 1e-4, longitudeStepDeg: 1e-4 }],
    ['a south at the end of what a pole may be', { southDeg: -90 - 1e-6 }],
    ['a south just inside of that', { southDeg: -90 - 0.95e-6 }],
    ['a north just inside of that', { southDeg: 45 + 0.95e-6, latitudeStepDeg: 45 }],
    ['a turn and less than a hundredth of a cell', { longitudeStepDeg: 360 / (1440 - 0.0095), columns: 1441 }],
    ['one cell around the Earth', { longitudeStepDeg: 360 }],
  ] as const)('may have %s', (_, change) => {
    expect(gridShapeProblem({ ...small, ...change })).toBeNull();
  });

  it.each([
    ['no columns', { columns: 0 }, 'grid-unreadable'],
    ['one column', { columns: 1 }, 'grid-unsupported'],
    [
      'more nodes',
      { rows: 20_500, columns: 20_500, latitudeStepDeg: 1e-4, longitudeStepDeg: 1e-4 },
      'grid-unsupported',
    ],
    ['no step eastwards', { longitudeStepDeg: 0 }, 'grid-unreadable'],
    ['a south farther beyond the pole', { southDeg: -90 - 1.05e-6 }, 'grid-unreadable'],
    ['a north farther beyond the pole', { southDeg: 45 + 1.05e-6, latitudeStepDeg: 45 }, 'grid-unreadable'],
    [
      'more than a hundredth of a cell beyond a turn',
      { longitudeStepDeg: 360 / (1440 - 0.0105), columns: 1441 },
      'grid-unreadable',
    ],
  ] as const)('may not have %s', (_, change, code) => {
    expect(gridShapeProblem({ ...small, ...change })?.code).toBe(code);
  });

  it('closes round the Earth even where that takes one cell', () => {
    const level = valueOf(gridLevelFrom({ ...small, longitudeStepDeg: 360 }, new Float64Array(4)));
    expect([level.wrapsLongitude, level.turnColumns, level.longitudeStepDeg]).toEqual([true, 1, 360]);
  });

  it('holds heights of 200 m at most, the first node among them', () => {
    const isTaken = (first: number): boolean => gridLevelFrom(small, Float64Array.of(first, 1, 2, 3)).ok;
    expect([200, -200, 201, -201, 210, Infinity].map(isTaken)).toEqual([true, true, false, false, false, false]);
  });
});

describe('the extent in a message', () => {
  it('names three levels at most', () => {
    const levels = [0, 10, 20, 30].map((southDeg) => levelOf({ southDeg }));
    expect(geoidProblem('outside', -50, 0, gridOf(...levels)).expected).toBe(
      [0, 10, 20].map((south) => `latitude ${String(south)} to ${String(south + 6)}, longitude 0 to 16`).join('; '),
    );
  });
});

describe('the node of the test value', () => {
  const found = (change: Partial<GridShape>, own?: (row: number, column: number) => number) =>
    geoidTestValue(gridOf(levelOf(change, 1, own)));

  it('is in the middle of rows and columns, at its longitude within half a turn', () => {
    expect(found({})).toEqual({ latitudeDeg: 3, longitudeDeg: 8, heightM: heightOf(3, 4) });
    expect(found({ rows: 6, columns: 8 })).toEqual({ latitudeDeg: 3, longitudeDeg: 8, heightM: heightOf(3, 4) });
    expect(found({ westDeg: -200 })?.longitudeDeg).toBe(168);
    expect(found({ westDeg: -188 })?.longitudeDeg).toBe(-180);
    expect(found({ westDeg: 172 })?.longitudeDeg).toBe(-180);
    expect(found({ westDeg: 171 })?.longitudeDeg).toBe(179);
    expect(found({ westDeg: 712 })?.longitudeDeg).toBe(0);
    expect(found({ westDeg: -712 })?.longitudeDeg).toBe(16);
  });

  it('is the one before the middle where no other has a value, and none where none has', () => {
    // The middle of seven rows of nine is the fifth of the fourth row.
    expect(found({}, (row, column) => (row === 3 && column === 3 ? 12.5 : NaN))).toEqual({
      latitudeDeg: 3,
      longitudeDeg: 6,
      heightM: 12.5,
    });
  });
});
