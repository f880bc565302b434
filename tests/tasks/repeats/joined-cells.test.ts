import { describe, expect, it } from 'vitest';
import type { Fix } from '../../../src/records/points/fix.js';
import type { RecordList } from '../../../src/records/record-list.js';
import { joinedCell, joinedCells } from '../../../src/tasks/repeats/joined-cells.js';

const fixes = (...rows: readonly (readonly string[])[]): RecordList<Fix> =>
  rows.map((passThrough) => ({ passThrough }) as unknown as Fix);
const joined = (...cells: readonly string[]): string =>
  joinedCell(fixes(...cells.map((cell) => [cell])), ({ passThrough }) => passThrough[0] ?? '');

describe('one cell of the rows of an occupation', () => {
  it.each<readonly [readonly string[], string]>([
    [[], ''],
    [['a'], 'a'],
    [[' a '], ' a '],
    [['a', 'a', 'a'], 'a'],
    [['b', 'a', 'b'], 'b; a'],
    [['', 'a', ' '], 'a'],
    [['', ' '], ''],
    [['a', 'b', 'c', 'd', 'e'], 'a; b; c; d; e'],
    [['a', 'b', 'c', 'd', 'e', 'f'], 'a (and 5 others)'],
    [['', 'a', 'b', 'c', 'd', 'e', 'f', 'g'], 'a (and 6 others)'],
  ])('of %j is "%s"', (cells, expected) => {
    expect(joined(...cells)).toBe(expected);
  });

  it('is joined column by column; a shorter row has empty ones', () => {
    expect(joinedCells(fixes())).toEqual([]);
    expect(joinedCells(fixes(['x', 'y']))).toEqual(['x', 'y']);
    expect(joinedCells(fixes(['x', 'y'], ['x', 'z'], ['w']))).toEqual(['x; w', 'y; z']);
    expect(joinedCells(fixes([], ['a']))).toEqual([]);
  });
});
