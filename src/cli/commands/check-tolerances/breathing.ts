import type { Workbench } from '../../shell/workbench.js';

/** Comparisons between two looks at what memory is left: nothing else is waited for while they are made. */
const ROWS_A_LOOK = 1000;

/** What is called with each comparison: now and then it looks at the memory, which may end the run. */
export function breathing(bench: Workbench): () => void {
  let rows = 0;
  return () => {
    rows += 1;
    if (rows % ROWS_A_LOOK === 0) bench.breathe();
  };
}
