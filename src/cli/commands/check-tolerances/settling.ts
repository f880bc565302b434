import { withInputVerdict } from '../../../tasks/check/judge/check-tolerances-input-verdict.js';
import type { CheckRow } from '../../../tasks/check/judge/check-tolerances-setup.js';
import type { Workbench } from '../../shell/workbench.js';

/** Comparisons between two looks at what memory is left: nothing else is waited for while they are made. */
const ROWS_A_LOOK = 1000;

/** Makes of each row what is kept, with a look at the memory now and then, which may end the run. */
export function settling(bench: Workbench): (row: CheckRow) => CheckRow {
  let rows = 0;
  return (row) => {
    rows += 1;
    if (rows % ROWS_A_LOOK === 0) bench.breathe();
    return withInputVerdict(row);
  };
}
