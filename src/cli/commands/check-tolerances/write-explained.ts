import type { RecordList } from '../../../records/record-list.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import { checkTitle, explainCheck } from '../../../tasks/check/explain-check.js';
import { noiseLimits } from '../../../tasks/check/judge/check-tolerances-judge.js';
import type { CheckKind, CheckRow, CheckSetup } from '../../../tasks/check/judge/check-tolerances-setup.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';

/** What --explain asks for: the comparisons of its point, and their working. */
export interface ExplainedCheck {
  readonly rows: readonly CheckRow[];
  readonly worked: readonly WorkedPoint[];
  /** Whether an occupation is one of those asked for. */
  readonly isShown: (point: Pick<CheckRow, 'pointId' | 'occupation'>) => boolean;
}

/** The working of every comparison of the point asked for; null without --explain, value-unknown-id where there is none. */
export function explainedCheck(
  rows: RecordList<CheckRow>,
  { axes, geoidSigmaM }: Pick<CheckSetup, 'axes' | 'geoidSigmaM'>,
  isOfDay: boolean,
  bench: Workbench,
): ExplainedCheck | null {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return null;
  const isShown = ({ pointId, occupation }: Pick<CheckRow, 'pointId' | 'occupation'>): boolean =>
    pointId === wanted || `${pointId}@${occupation}` === wanted;
  const counts = new Map<CheckKind, number>();
  const found: CheckRow[] = [];
  for (const row of rows) {
    // The first of a kind is counted from none.
    counts.set(row.check, (counts.get(row.check) ?? 0) + 1);
    if (isShown(row)) found.push(row);
  }
  if (found.length === 0)
    nothingToExplain(
      bench,
      wanted,
      `there is no comparison of a point ${wanted} to explain`,
      'name it as it stands in the output, POINT or POINT@OCCUPATION; it must have been compared with something',
    );
  const worked = found.map((row) => {
    const isJoint = row.check === 'repeat' || row.check === 'base-pair';
    // A kind that has a row was counted.
    const noise = isJoint ? null : noiseLimits(counts.get(row.check) ?? 1, axes);
    return { title: checkTitle(row), steps: explainCheck(row, axes, noise, { geoidSigmaM, isOfDay }) };
  });
  return { rows: found, worked, isShown };
}
