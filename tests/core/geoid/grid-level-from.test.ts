import { describe, expect, it } from 'vitest';
import { gridLevelFrom, gridShapeProblem } from '../../../src/core/geoid/grid-level-from.js';
import type { GridShape } from '../../../src/core/geoid/grid-level-from.js';

const SHAPE: GridShape = { southDeg: 0, westDeg: 0, latitudeStepDeg: 1, longitudeStepDeg: 1, rows: 2, columns: 3 };
const values = (...numbers: number[]) => Float64Array.from(numbers);

describe('gridShapeProblem', () => {
  it('accepts a plain shape', () => {
    expect(gridShapeProblem(SHAPE)).toBeNull();
  });

  it.each([
    ['no rows', { rows: 0 }, 'grid-unreadable'],
    ['a negative count', { columns: -3 }, 'grid-unreadable'],
    ['a fraction of a row', { rows: 2.5 }, 'grid-unreadable'],
    ['one row', { rows: 1 }, 'grid-unsupported'],
    [
      'more nodes than the bound',
      { rows: 40_000, columns: 40_000, latitudeStepDeg: 1e-4, longitudeStepDeg: 1e-4 },
      'grid-unsupported',
    ],
    ['a step of nothing', { latitudeStepDeg: 0 }, 'grid-unreadable'],
    ['a step that is no number', { longitudeStepDeg: Number.NaN }, 'grid-unreadable'],
    ['a step backwards', { longitudeStepDeg: -1 }, 'grid-unreadable'],
    ['rows beyond the pole', { southDeg: 89.5 }, 'grid-unreadable'],
    ['a south beyond the pole', { southDeg: -90.1 }, 'grid-unreadable'],
    ['a south that is no number', { southDeg: Number.NaN }, 'grid-unreadable'],
    ['more than one turn', { longitudeStepDeg: 200 }, 'grid-unreadable'],
    // A hundredth of a cell of a quarter of a degree is 0.0025°.
    ['a turn and three hundredths of a degree', { longitudeStepDeg: 360.03 / 1440, columns: 1441 }, 'grid-unreadable'],
    [
      'a turn and more than a hundredth of a cell',
      { longitudeStepDeg: 360.003 / 1440, columns: 1441 },
      'grid-unreadable',
    ],
    ['a west beyond two turns', { westDeg: 720.5 }, 'grid-unreadable'],
    ['a west beyond two turns the other way', { westDeg: -720.5 }, 'grid-unreadable'],
    ['a west that is no longitude', { westDeg: 1e9 }, 'grid-unreadable'],
  ] as const)('refuses %s', (_name, change, code) => {
    expect(gridShapeProblem({ ...SHAPE, ...change })?.code).toBe(code);
  });
});

describe('gridShapeProblem at its ends', () => {
  it.each([
    ['a turn within a hundredth of a cell', { longitudeStepDeg: 360.002 / 1440, columns: 1441 }],
    ['a west of two turns', { westDeg: -720 }],
    ['rows from pole to pole', { southDeg: -90, latitudeStepDeg: 90, rows: 3 }],
  ] as const)('accepts %s', (_name, change) => {
    expect(gridShapeProblem({ ...SHAPE, ...change })).toBeNull();
  });
});

describe('gridLevelFrom', () => {
  it('refuses a shape that no grid can have before it looks at the values', () => {
    const level = gridLevelFrom({ ...SHAPE, rows: 1 }, new Float64Array(3).fill(Number.NaN));
    expect(level.ok).toBe(false);
    expect(level.problems).toEqual([gridShapeProblem({ ...SHAPE, rows: 1 })]);
  });

  it.each([
    ['too few values', values(1, 2, 3), /do not fill/],
    ['an infinite value', values(1, 2, 3, 4, 5, Infinity), /Infinity/],
    ['a no-data value the file does not state', values(1, 2, 3, 4, 5, -9999), /-9999/],
    ['no value at all', new Float64Array(6).fill(Number.NaN), /no node/],
  ])('refuses %s', (_name, given, message) => {
    const level = gridLevelFrom(SHAPE, given);
    expect(level.ok).toBe(false);
    expect(level.problems[0]?.code).toBe('grid-unreadable');
    expect(level.problems[0]?.message).toMatch(message);
  });

  it('keeps a step of cut-off decimals from adding up round the Earth', () => {
    const shape: GridShape = { ...SHAPE, longitudeStepDeg: 0.333333, columns: 1080 };
    const level = gridLevelFrom(shape, new Float64Array(2160));
    expect(level.ok && level.value.longitudeStepDeg).toBe(360 / 1080);
  });

  it('does not close a grid that stops a column short of the turn', () => {
    const level = gridLevelFrom({ ...SHAPE, columns: 359 }, new Float64Array(718));
    expect(level.ok && level.value.wrapsLongitude).toBe(false);
  });
});
