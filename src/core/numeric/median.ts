import { InternalError } from '../../records/internal-error.js';
import { createValueRoom } from './kept-room.js';

/** Median absolute deviation times this is the standard deviation of normal errors: 1 / z(0.75). */
export const MAD_TO_SIGMA = 1.482602218505602;

/**
 * The middle value; of an even count, the mean of the two in the middle. The values given are left
 * as they are. Time grows in proportion to the count.
 *
 * Given: at least one finite number. Returned: their median, in the unit given.
 * Errors: InternalError for no values.
 */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) throw new InternalError('the median of no values was asked for');
  return medianInPlace(copyOf(values), values.length);
}

/**
 * The median of values that are asked for one by one, which stand nowhere else.
 *
 * Given: how many, at least one; what gives the value of a place, a finite number, null where it is not known; it asks for no median itself.
 * Returned: their median, in the unit given; null where one is not known. Errors: InternalError for no values.
 */
export function medianOfEach(count: number, valueAt: (place: number) => number | null): number | null {
  if (count === 0) throw new InternalError('the median of no values was asked for');
  const values = roomFor(count);
  for (let i = 0; i < count; i += 1) {
    const value = valueAt(i);
    if (value === null) return null;
    values[i] = value;
  }
  return medianInPlace(values, count);
}

/**
 * The median of the distances from a centre. It is not scaled: multiply by `MAD_TO_SIGMA` for a
 * robust standard deviation of normal errors.
 *
 * Given: at least one finite number; the centre, by default their median. Returned: the median
 * absolute deviation, in the unit given. Errors: InternalError for no values.
 */
export function medianAbsoluteDeviation(values: ArrayLike<number>, centre: number = median(values)): number {
  if (values.length === 0) throw new InternalError('the deviation of no values was asked for');
  const distances = copyOf(values);
  for (let i = 0; i < values.length; i += 1) distances[i] = Math.abs((distances[i] as number) - centre);
  return medianInPlace(distances, values.length);
}

const roomFor = createValueRoom();

function copyOf(values: ArrayLike<number>): Float64Array {
  const copy = roomFor(values.length);
  for (let i = 0; i < values.length; i += 1) copy[i] = values[i] as number;
  return copy;
}

/**
 * The median of the first values of an array, which are put into another order.
 *
 * Given: the array; how many of its values, at least one, all of them finite. Returned: their median, in the unit given.
 */
export function medianInPlace(values: Float64Array, count: number): number {
  const upper = count >> 1;
  select(values, upper, count);
  const high = values[upper] as number;
  if (count % 2 === 1) return high;
  let low = -Infinity;
  for (let i = 0; i < upper; i += 1) low = Math.max(low, values[i] as number);
  return low + (high - low) / 2;
}

/**
 * The value that would stand at a rank if the values were sorted; they are put into another order.
 *
 * Given: the values, at least one, all of them finite; the rank, 0 the smallest. Returned: the value of that rank, in the unit given.
 */
export function nthSmallestInPlace(values: Float64Array, rank: number): number {
  select(values, rank, values.length);
  return values[rank] as number;
}

/** Puts the value of rank `rank` among the first `count` in its place, nothing larger before it and nothing smaller after. */
function select(values: Float64Array, rank: number, count: number): void {
  let left = 0;
  let right = count - 1;
  while (right > left) {
    const pivot = middleOfThree(values[left] as number, values[(left + right) >> 1] as number, values[right] as number);
    let i = left;
    let j = right;
    while (i <= j) {
      while ((values[i] as number) < pivot) i += 1;
      while ((values[j] as number) > pivot) j -= 1;
      if (i <= j) {
        const held = values[i] as number;
        values[i] = values[j] as number;
        values[j] = held;
        i += 1;
        j -= 1;
      }
    }
    if (rank <= j) right = j;
    else if (rank >= i) left = i;
    else return;
  }
}

function middleOfThree(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
