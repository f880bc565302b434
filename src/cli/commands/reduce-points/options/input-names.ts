import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { Context } from '../../../shell/context.js';

/** The inputs named; standard input only when it is named or piped in and nothing else is. Problem: usage-invalid. */
export function inputNames(invocation: Invocation, context: Pick<Context, 'stdin'>): Outcome<readonly string[]> {
  if (invocation.args.length > 0) return success(invocation.args);
  if (context.stdin.isTTY !== true) return success(['-']);
  return failure(
    errorProblem('usage-invalid', {
      message: 'no input is named',
      hint: 'pegbook reduce-points FILE --session FILE; pegbook help reduce-points shows more',
    }),
  );
}
