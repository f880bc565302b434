/**
 * Adds a list of any length to the end of another; as arguments of `push` some hundred thousand would overflow the stack.
 * Given: the list that grows; what is added, in its order.
 */
export function pushAll<T>(list: T[], added: Iterable<T>): void {
  for (const value of added) list.push(value);
}
