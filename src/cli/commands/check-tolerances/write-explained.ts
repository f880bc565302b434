import type { RecordList } from '../../../records/record-list.js';
import { checkTitle, explainCheck } from '../../../tasks/check/explain-check.js';
import { noiseLimits } from '../../../tasks/check/judge/check-tolerances-judge.js';
import type { CheckKind, CheckRow, CheckSetup } from '../../../tasks/check/judge/check-tolerances-setup.js';
import { workingText } from '../../../tasks/explain/explain-point.js';
import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { textOption } from '../../shell/command-spec.js';
import type { Workbench } from '../../shell/workbench.js';
import type { CheckPlaces } from './check-tolerances-places.js';

/** Writes the working of every comparison of the point asked for; value-unknown-id where there is none. */
export async function writeExplainedCheck(
  { explain }: CheckPlaces,
  rows: RecordList<CheckRow>,
  { axes, geoidSigmaM }: Pick<CheckSetup, 'axes' | 'geoidSigmaM'>,
  isOfDay: boolean,
  bench: Workbench,
): Promise<void> {
  const wanted = textOption(bench.invocation, 'explain');
  if (wanted === null) return;
  const counts = new Map<CheckKind, number>();
  const found: CheckRow[] = [];
  for (const row of rows) {
    // The first of a kind is counted from none.
    counts.set(row.check, (counts.get(row.check) ?? 0) + 1);
    if (row.pointId === wanted || `${row.pointId}@${row.occupation}` === wanted) found.push(row);
  }
  if (found.length === 0)
    nothingToExplain(
      bench,
      wanted,
      `there is no comparison of a point ${wanted} to explain`,
      'name it as it stands in the output, POINT or POINT@OCCUPATION; it must have been compared with something',
    );
  for (const row of found) {
    const isJoint = row.check === 'repeat' || row.check === 'base-pair';
    // A kind that has a row was counted.
    const noise = isJoint ? null : noiseLimits(counts.get(row.check) ?? 1, axes);
    await explain?.write(workingText(checkTitle(row), explainCheck(row, axes, noise, { geoidSigmaM, isOfDay })));
  }
}
