import { InternalError } from './internal-error.js';

/**
 * The entry of a list at a place that must be there. Throws InternalError where it is not: a default would hide the mistake.
 * For loops that a million rows pass, `list[i] as T` does the same without the question.
 */
export function entryAt<T>(list: ArrayLike<T>, index: number): T {
  const entry = list[index];
  if (entry === undefined) throw new InternalError(`no entry ${String(index)} in a list of ${String(list.length)}`);
  return entry;
}

/** A value that cannot be absent where it is asked for; `what` names it in the InternalError that says it was. */
export function present<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new InternalError(`${what} is not known where it must be`);
  return value;
}
