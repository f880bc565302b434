import type { Fix } from '../../../records/points/fix.js';
import type { Problem } from '../../../records/problem.js';
import { openWindowWarning } from '../../bases/base-doubts.js';
import { farHeightWarning, steepWarning } from './height-doubts.js';
import type { ReductionSetup } from '../reduction-setup.js';
import { joinedSpan } from '../totals/reduction-totals.js';
import type { EpochSpan, ReductionTotals } from '../totals/reduction-totals.js';
import type { ReducedOccupation } from '../reduction-working.js';
import { createSeparationWatch } from './separation-doubt.js';

/** What a run has to say once of everything it reduced. */
export interface RunDoubts {
  readonly add: (reduced: ReducedOccupation) => void;
  /** An occupation was reduced that raises none by itself. */
  readonly begun: () => void;
  /** An occupation of another part of the whole: its first row and the time of its last, milliseconds. */
  readonly passed: (first: Fix, lastMs: number | null) => void;
  readonly problems: (totals: Pick<ReductionTotals, 'span' | 'heightEnds' | 'steepest'>) => readonly Problem[];
}

/** Doubts that only the whole of a run can raise, each said once. */
export function createRunDoubts(setup: ReductionSetup): RunDoubts {
  const separations = createSeparationWatch(setup);
  let before: EpochSpan | null = null;
  let hasBegun = false;
  return {
    passed({ epochMs }, lastMs) {
      // Those after our own are no part of what came before.
      if (!hasBegun && epochMs !== null && lastMs !== null) before = joinedSpan(before, { firstMs: epochMs, lastMs });
    },
    begun() {
      hasBegun = true;
    },
    add(reduced) {
      hasBegun = true;
      separations.add(reduced);
    },
    problems: (totals) =>
      [
        openWindowWarning(setup.bases, joinedSpan(before, totals.span()), before),
        separations.warning(),
        farHeightWarning(totals.heightEnds(), setup.bases),
        steepWarning(totals.steepest()),
      ].filter((problem) => problem !== null),
  };
}
