/**
 * The largest of any number of values; an argument list holds some hundred thousand at most.
 * Given: values; what is returned without any. Returned: a number in their unit.
 */
export function largestOf(values: Iterable<number>, none: number = -Infinity): number {
  let most = none;
  for (const value of values) if (value > most) most = value;
  return most;
}

/**
 * The smallest of any number of values.
 * Given: values; what is returned without any. Returned: a number in their unit.
 */
export function smallestOf(values: Iterable<number>, none: number = Infinity): number {
  let least = none;
  for (const value of values) if (value < least) least = value;
  return least;
}
