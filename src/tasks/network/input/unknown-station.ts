import { nearestWord } from '../../../core/numeric/text/nearest-word.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/** That no station has a name. */
export function unknownStation(id: string, known: readonly string[]): Problem {
  const near = nearestWord(id, known, 0);
  return errorProblem('value-unknown-id', {
    message: `there is no station ${id} in the network`,
    received: id,
    hint:
      near === null ? 'ids are compared letter by letter' : `ids are compared letter by letter: did you mean ${near}?`,
  });
}
