import { largestOf } from '../../../core/numeric/extremes.js';
import { parseAngle } from '../../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { writtenRounding } from '../../../core/numeric/text/written-rounding.js';
import { cellFactor } from '../columns/cells/file-cells.js';
import type { ColumnMap } from '../columns/column-map.js';
import { GEOGRAPHIC } from './place-columns.js';
import type { PlaceReadOptions } from './place-input.js';
import { entryAt } from '../../../records/present.js';

/** A second position of a row, with half a unit of the last digits of both as written. */
export interface OtherPosition {
  /** Latitude and longitude, degrees; or the pair of a grid in its unit. */
  readonly first: number;
  readonly second: number;
  readonly rounding: number;
  /** Of the position that was read, in its unit. */
  readonly readRounding: number;
}

/** Reads the second position of a row of texts; null where the row has none that can be read. No reader: the file has no columns of one. */
export function otherPositionReader(
  map: ColumnMap,
  { kind, axes, beside }: PlaceReadOptions,
  decimalComma: boolean,
): ((row: readonly string[]) => OtherPosition | null) | null {
  // Nothing stands beside it.
  const others: readonly string[] = kind === 'projected' ? GEOGRAPHIC : kind === 'geographic' ? (beside ?? []) : [];
  // No pair is read.
  const read: readonly string[] = kind === 'projected' ? (axes ?? []) : GEOGRAPHIC;
  const indexOf = (name: string): number =>
    map.passThrough.find((column) => column.name.toLowerCase() === name)?.index ?? -1;
  const [first, second] = others.map(indexOf);
  if (first === undefined || second === undefined || first < 0 || second < 0) return null;
  const reads = read.map((name) => map.column(name));
  const readCoarser = (row: readonly string[]): number =>
    largestOf(
      reads.map(
        ({ name, index, reading }) =>
          // A row may be shorter than its header.
          writtenRounding((row[index] ?? '').trim()) * (reading === null ? 1 : cellFactor(name, reading)),
      ),
    );
  const angleOf = (text: string, axis: 'latitude' | 'longitude'): number | null => {
    const parsed = parseAngle(text, axis, decimalComma);
    return parsed.ok ? parsed.value : null;
  };
  return (row) => {
    const cell = (index: number | undefined): string =>
      index === undefined || index < 0 ? '' : entryAt(row, index).trim();
    const [a, b] = [cell(first), cell(second)];
    if (a === '' || b === '') return null;
    const x = kind === 'projected' ? angleOf(a, 'latitude') : parseDecimal(a, decimalComma);
    const y = kind === 'projected' ? angleOf(b, 'longitude') : parseDecimal(b, decimalComma);
    if (x === null || y === null) return null;
    return { first: x, second: y, rounding: coarser(a, b), readRounding: readCoarser(row) };
  };
}

function coarser(a: string, b: string): number {
  return Math.max(writtenRounding(a), writtenRounding(b));
}
