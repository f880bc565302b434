import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import type { CsvWriteOptions } from '../../csv/csv-write.js';
import { createRowByteWriter } from '../row-bytes/row-bytes-write.js';
import type { RowByteWriter } from '../row-bytes/row-bytes-write.js';
import { pointCells } from './point-cells.js';
import { pointColumns } from './point-columns.js';

/**
 * A writer of the rows that `createCsvWriter` makes of `pointCells`, straight to bytes; the cell that it marks is that of the
 * occupation. A property test holds the ways together.
 */
export function createPointRowWriter(names: readonly string[], options: CsvWriteOptions): RowByteWriter<ReducedPoint> {
  const columns = pointColumns(['', '']);
  const carriedOf = ({ passThrough }: ReducedPoint): readonly string[] => passThrough;
  return createRowByteWriter({ names, columns, carriedOf, cellsOf: pointCells, marked: 'occupation' }, options);
}
