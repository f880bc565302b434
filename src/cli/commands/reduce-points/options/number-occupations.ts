import { Buffer } from 'node:buffer';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import type { OccupationCounter } from '../../../../tasks/reduce/occupations/occupation-counter.js';
import type { RepeatKeeper } from '../../../../tasks/repeats/repeat-keeper.js';
import type { TotalsPart } from '../../../../tasks/reduce/totals/reduction-totals.js';
import type { BlockRows } from '../blocks/reduce-block.js';

/** A block's rows ready to be written, and its totals. */
export interface NumberedRows {
  /** To be written one after the other. */
  readonly pieces: readonly Uint8Array[];
  readonly totals: TotalsPart;
}

/**
 * Numbers the occupations of a block in the order of the run. Blocks are reduced with every occupation numbered 1; a digit
 * is put right in place, a longer number between two pieces.
 */
export function numberOccupations(
  { points, occupationAt, hashes, stands, totals }: BlockRows,
  counter: OccupationCounter,
  keeper: Pick<RepeatKeeper, 'addRecords' | 'repeated'>,
): NumberedRows {
  keeper.addRecords(hashes, stands);
  const pieces: Uint8Array[] = [];
  const numbers = new Uint32Array(occupationAt.length);
  let from = 0;
  for (let index = 0; index < occupationAt.length; index += 1) {
    const number = counter.nextHashed(hashes[2 * index] as number, hashes[2 * index + 1] as number);
    numbers[index] = number;
    if (number === 1) continue;
    const at = occupationAt[index] as number;
    keeper.repeated(nameBefore(points, at));
    if (number < 10) {
      points[at] = 0x30 + number;
      continue;
    }
    pieces.push(points.subarray(from, at), Buffer.from(String(number), 'latin1'));
    from = at + 1;
  }
  pieces.push(points.subarray(from));
  const noted = totals.noted.map((point) => ({
    ...point,
    // An occupation that the file gives no number counts as none.
    occupation: String(numbers[parseDecimal(point.occupation) ?? -1] ?? 0),
  }));
  return { pieces, totals: { ...totals, noted } };
}

/** The cell that ends before a place, the first of its row; no row here needs quotes. */
function nameBefore(points: Uint8Array, at: number): string {
  let start = at - 1;
  while (start > 0 && points[start - 1] !== 0x0a) start -= 1;
  return Buffer.from(points.buffer, points.byteOffset + start, at - 1 - start).toString('utf8');
}
