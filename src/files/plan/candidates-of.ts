import { pushAll } from '../../core/numeric/push-all.js';
import type { BaseCandidate } from '../../core/planning/plan-point.js';
import { createCandidateAttributes } from '../../io/tables/candidate-attributes.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { LocatedRow } from '../../tasks/plan/targets/locate-rows.js';

/** The file that candidates come from: its name, the names of its other columns, and how it writes numbers. */
export interface CandidateFile {
  readonly name: string;
  readonly passThroughNames: readonly string[];
  readonly decimalComma: boolean;
}

/**
 * Candidates with their attributes. Given: rows with their places; the file they come from.
 * Problems: those of `createCandidateAttributes`, of every row; value-missing without any.
 */
export function candidatesOf(
  rows: readonly LocatedRow[],
  { name, passThroughNames, decimalComma }: CandidateFile,
): Outcome<readonly BaseCandidate[]> {
  const read = createCandidateAttributes(passThroughNames, name, decimalComma);
  const problems: Problem[] = [];
  const candidates: BaseCandidate[] = [];
  for (const { row, ...place } of rows) {
    const attributes = read(row);
    if (attributes.ok) candidates.push({ ...place, ...attributes.value });
    else pushAll(problems, attributes.problems);
  }
  if (problems.length > 0) return failureOf(problems);
  if (candidates.length > 0) return success(candidates);
  return failure(
    errorProblem('value-missing', {
      message: 'there are no candidates in the file',
      where: { source: name },
      hint: 'check the file and its rows',
    }),
  );
}
