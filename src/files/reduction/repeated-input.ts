import type { Source } from '../../io/bytes/source.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/** Whether each input is another file. Problems: input-repeated for one with the bytes of an earlier one. */
export function createInputCheck(): (source: Source) => Outcome<null> {
  const seen = new Map<string, string>();
  return (source) => {
    const { sha256 } = source.digest();
    const twin = seen.get(sha256);
    seen.set(sha256, source.name);
    if (twin === undefined) return success(null);
    return failure(
      errorProblem('input-repeated', {
        message: `${source.name} has the same bytes as ${twin}`,
        where: { source: source.name },
        hint: 'name each file once: its epochs would count twice',
      }),
    );
  };
}
