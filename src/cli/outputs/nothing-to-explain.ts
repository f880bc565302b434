import { failure } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Workbench } from '../shell/workbench.js';

/** Ends the run where --explain names a point that is not there. */
export function nothingToExplain(
  bench: Workbench,
  wanted: string,
  message: string = `there is no point ${wanted} to explain`,
  hint: string = 'name it as it stands in the file',
): void {
  bench.take(failure(errorProblem('value-unknown-id', { message, received: wanted, hint })));
}
