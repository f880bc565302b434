import type { Problem } from '../records/problem.js';
import { openWindowWarning } from './base-doubts.js';
import type { ReductionSetup } from './reduction-setup.js';
import type { ReductionTotals } from './reduction-totals.js';
import type { ReducedOccupation } from './reduction-working.js';
import { createSeparationWatch } from './separation-doubt.js';

/** What a run has to say once of everything it reduced. */
export interface RunDoubts {
  readonly add: (reduced: ReducedOccupation) => void;
  readonly problems: (totals: Pick<ReductionTotals, 'span'>) => readonly Problem[];
}

/** Doubts that only the whole of a run can raise, each said once. */
export function createRunDoubts(setup: ReductionSetup): RunDoubts {
  const separations = createSeparationWatch(setup);
  return {
    add(reduced) {
      separations.add(reduced);
    },
    problems: (totals) => [openWindowWarning(setup.bases, totals.span()), separations.warning()].filter((problem) => problem !== null),
  };
}
