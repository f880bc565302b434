import type { Sink } from '../../../../io/bytes/sink.js';
import { failure } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { explainPoint, workingText } from '../../../../tasks/explain/explain-point.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { ReducedOccupation } from '../../../../tasks/reduce/reduction-working.js';
import { textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { Workbench } from '../../../shell/workbench.js';

/** The point to explain; every occupation of it where none is named. */
export interface ExplainTarget {
  readonly pointId: string;
  readonly occupation: string | null;
}

/** What --explain names: POINT or POINT@OCCUPATION; null without the option. */
export function explainTarget(invocation: Invocation): ExplainTarget | null {
  const text = textOption(invocation, 'explain');
  if (text === null) return null;
  const at = /^(.*)@(\d+)$/su.exec(text);
  return at === null ? { pointId: text, occupation: null } : { pointId: at[1] ?? '', occupation: at[2] ?? null };
}

/** Writes the working of the occupations found; value-unknown-id where there is none. */
export async function writeExplained(
  explained: readonly ReducedOccupation[],
  target: ExplainTarget,
  setup: ReductionSetup,
  sink: Sink | null,
  bench: Workbench,
): Promise<void> {
  if (explained.length === 0) {
    bench.take(
      failure(
        errorProblem('value-unknown-id', {
          message: `there is no point ${target.pointId}${target.occupation === null ? '' : ` with an occupation ${target.occupation}`} to explain`,
          received: target.pointId,
          hint: 'name it as it stands in the output, POINT or POINT@2; joined occupations are explained one by one',
        }),
      ),
    );
  }
  for (const reduced of explained) {
    await sink?.write(
      workingText(
        `Reduction of ${reduced.point.pointId}, occupation ${reduced.point.occupation}`,
        explainPoint(reduced, setup),
      ),
    );
  }
}
