import type { PointInput } from '../../io/tables/points/points-read.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/** A file of points, and what messages call it. */
interface NamedInput {
  readonly input: PointInput;
  readonly name: string;
}

/** csv-axes-mismatch where two files, whose system is not stated, name other axes. */
export function sameAxes(measured: NamedInput, other: NamedInput): Outcome<null> {
  const [ours, theirs] = [measured.input.axes, other.input.axes];
  if (ours === null || theirs === null || ours.join() === theirs.join()) return success(null);
  return failure(
    errorProblem('csv-axes-mismatch', {
      message: `${other.name} has ${theirs.join(', ')} and ${measured.name} has ${ours.join(', ')}`,
      where: { source: other.name },
      hint: 'name the system with --system, and transform one of the files',
    }),
  );
}
