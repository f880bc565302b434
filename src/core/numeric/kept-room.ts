/**
 * Memory that is used again and again for the matrices of one function. Given, each time: how many numbers; returned: an array of as many zeros
 * or more, which is good until the next call.
 */
export function createZeroedRoom(): (length: number) => Float64Array {
  let numbers = new Float64Array(0);
  return (length) => {
    if (numbers.length < length) numbers = new Float64Array(length);
    else numbers.fill(0, 0, length);
    return numbers;
  };
}

/** More values have room of their own, which is given back: 16 MiB. */
const MOST_KEPT = 1 << 21;

/** Gives room for so many values, what it holds from its last use not cleared; it may be longer. Good until it is asked again. */
export type ValueRoom = (length: number) => Float64Array;

/** Room for values that is kept, so that what is done to each of a million stands asks for no memory, and what is done to a long one six times asks for it once. */
export function createValueRoom(): ValueRoom {
  let room = new Float64Array(2048);
  return (length) => {
    const found = length <= room.length ? room : new Float64Array(length);
    if (found.length <= MOST_KEPT) room = found;
    return found;
  };
}
