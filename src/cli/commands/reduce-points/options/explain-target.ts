import { nothingToExplain } from '../../../outputs/nothing-to-explain.js';
import type { WorkedPoint } from '../../../../records/working-step.js';
import { explainPoint } from '../../../../tasks/explain/explain-point.js';
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

/** The working of the occupations found, and of all of them together; value-unknown-id where there is none. */
export function workedPoints(
  bench: Workbench,
  explained: readonly ExplainedOccupation[],
  together: Repeated,
): readonly WorkedPoint[] {
  const target = explainTarget(bench.invocation);
  if (target === null) return [];
  if (explained.length === 0)
    nothingToExplain(
      bench,
      target.pointId,
      `there is no point ${target.pointId}${target.occupation === null ? '' : ` with an occupation ${target.occupation}`} to explain`,
      'name it as it stands in the output, POINT, POINT@2 or of a job POINT@DAY/2; joined occupations are explained one by one',
    );
  const joined = explainRepeats(
    explained.map(({ reduced }) => reduced.point),
    together.setup,
    together.repeated,
  );
  return [
    ...explained.map(({ reduced, setup }) => ({
      title: `Reduction of ${reduced.point.pointId}, occupation ${reduced.point.occupation}`,
      steps: explainPoint(reduced, setup),
    })),
    ...(joined.length === 0 ? [] : [{ title: `The occupations of ${target.pointId} together`, steps: joined }]),
  ];
}
