import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';

/** What is said of a day names it. */
export function ofDay<T>(outcome: Outcome<T>, id: string | null): Outcome<T> {
  if (id === null) return outcome;
  const problems = outcome.problems.map((problem): Problem => {
    if (problem.where?.source !== undefined) return problem;
    const path = problem.where?.path;
    return { ...problem, where: { ...problem.where, path: `day ${id}${path === undefined ? '' : `, ${path}`}` } };
  });
  return { ...outcome, problems };
}
