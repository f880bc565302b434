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
