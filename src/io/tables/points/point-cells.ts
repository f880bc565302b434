import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import { createCellTexts } from '../columns/cells/cell-text.js';
import { pointColumns } from './point-columns.js';

const ownCells = createCellTexts(pointColumns(['', '']));

/**
 * A reduced point as the cells of a points file, in the order of `pointColumns`, then the
 * input's other columns. What is not known is an empty cell.
 */
export function pointCells(point: ReducedPoint): string[] {
  const cells = ownCells(point);
  for (const cell of point.passThrough) cells.push(cell);
  return cells;
}
