import type { Problem } from '../../records/problem.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';

/** The exit codes of every command; the help topic and the docs print this table. */
export const EXIT_CODES = {
  done: { code: 0, meaning: 'done; the answer is "within" or "review" (--fail-on review makes review 1)' },
  no: {
    code: 1,
    meaning: 'done, and the answer is "no": a point rejected, a tolerance exceeded, a test failed, rows skipped',
  },
  usage: { code: 2, meaning: 'usage or settings error; nothing was read' },
  input: { code: 3, meaning: 'input data invalid; no output was committed' },
  file: { code: 4, meaning: 'a file, grid or output place is missing or unusable' },
  internal: { code: 70, meaning: 'internal error' },
  interrupted: { code: 130, meaning: 'interrupted' },
} as const;

/** The exit code for a run stopped by problems: the one of the first error. */
export function exitCodeFor(problems: readonly Problem[]): number {
  const first = problems.find((problem) => problem.severity === 'error');
  return first === undefined ? EXIT_CODES.internal.code : PROBLEM_CODES[first.code].exit;
}
