import type { Sink } from '../../../../io/bytes/sink.js';
import { failure } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { explainPoint, workingText } from '../../../../tasks/explain/explain-point.js';
import { explainRepeats } from '../../../../tasks/explain/explain-repeats.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { ExplainedOccupation } from '../../../../files/reduction/day-flow.js';
import type { ExplainTarget } from '../../../../files/reduction/reduction-flow.js';
import type { Workbench } from '../../../shell/workbench.js';

/** What --explain names: POINT, POINT@OCCUPATION or, of a job, POINT@DAY/OCCUPATION; null without the option. */
export function explainTarget(invocation: Invocation): ExplainTarget | null {
  const text = textOption(invocation, 'explain');
  if (text === null) return null;
  const at = /^(.*)@((?:[^@/]+\/)?\d+)$/su.exec(text);
  return at === null ? { pointId: text, occupation: null } : { pointId: at[1] ?? '', occupation: at[2] ?? null };
}

/** What the occupations of a point are compared with: the setup of the run, and how many points have several. */
export interface Repeated {
  readonly setup: ReductionSetup;
  readonly repeated: number;
}

/** Writes the working of the occupations found; value-unknown-id where there is none. */
export async function writeExplained(
  bench: Workbench,
  sink: Sink | null,
  explained: readonly ExplainedOccupation[],
  together: Repeated,
): Promise<void> {
  const target = explainTarget(bench.invocation);
  if (target === null) return;
  if (explained.length === 0) {
    bench.take(
      failure(
        errorProblem('value-unknown-id', {
          message: `there is no point ${target.pointId}${target.occupation === null ? '' : ` with an occupation ${target.occupation}`} to explain`,
          received: target.pointId,
          hint: 'name it as it stands in the output, POINT, POINT@2 or of a job POINT@DAY/2; joined occupations are explained one by one',
        }),
      ),
    );
  }
  for (const { reduced, setup } of explained) {
    await sink?.write(
      workingText(
        `Reduction of ${reduced.point.pointId}, occupation ${reduced.point.occupation}`,
        explainPoint(reduced, setup),
      ),
    );
  }
  const joined = explainRepeats(
    explained.map(({ reduced }) => reduced.point),
    together.setup,
    together.repeated,
  );
  if (joined.length > 0) await sink?.write(workingText(`The occupations of ${target.pointId} together`, joined));
}
