import { InternalError } from '../../../records/internal-error.js';

/**
 * Throws InternalError where a name stands twice among the columns of an output: readers of CSV and JSON take one of
 * the two, and which is not said anywhere. What may clash is renamed by `carriedNames` before.
 */
export function assertDistinct(columns: readonly string[]): void {
  const seen = new Set<string>();
  for (const name of columns) {
    if (seen.has(name)) throw new InternalError(`the column ${name} would appear twice`);
    seen.add(name);
  }
}
