import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { Fix } from '../../../records/points/fix.js';
import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { placeOf } from '../../bases/place-of-fixes.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { ReducedOccupation } from '../reduction-working.js';

/**
 * A receiver's geoid separation and a model's may differ by this much, metres: receivers carry coarse grids, of 1° to 10°,
 * and 1 to 2 m are usual. Holds over the first epoch of every occupation of a run; the largest difference is said.
 * Common practice, no published source.
 */
export const SEPARATION_LIMIT_M = 3;

/** No model is this far from another, metres: what differs by more is another thing than a separation. Common practice, no published source. */
const WRONG_SEPARATION_M = 10;

/** Whether the separation of a fix is none: far from the geoid height at its point, or 0 where that is more than a receiver's model is wrong by. */
export function isSeparationWrong({ separationM }: Fix, geoidHeightM: number | null): boolean {
  if (separationM === undefined || geoidHeightM === null) return false;
  const difference = Math.abs(separationM - geoidHeightM);
  return difference > (separationM === 0 ? SEPARATION_LIMIT_M : WRONG_SEPARATION_M);
}

/** Watches the separations of a log while its occupations go by. */
export interface SeparationWatch {
  readonly add: (reduced: ReducedOccupation) => void;
  /** geoid-separation-differs, or null where no occupation is beyond the limit. */
  readonly warning: () => Problem | null;
}

interface Difference {
  readonly pointId: string;
  readonly separationM: number;
  readonly geoidHeightM: number;
  readonly where: { readonly source: string; readonly line: number };
}

/**
 * A watch that compares the separation of each occupation's first epoch with the geoid height of the model at the point.
 * The separation is part of `h = altitude + separation`: one of the wrong sign, or another than the receiver applied to
 * its altitude, is in every height.
 */
export function createSeparationWatch(setup: ReductionSetup): SeparationWatch {
  let worst: Difference | null = null;
  let beyond = 0;
  let isSign = true;
  return {
    add({ point, working }) {
      const fix = working.epochs.at(0)?.fix;
      const geoidHeightM = working.position?.geoidHeightM ?? null;
      if (fix?.separationM === undefined || geoidHeightM === null) return;
      const { separationM } = fix;
      const difference = Math.abs(separationM - geoidHeightM);
      if (difference <= SEPARATION_LIMIT_M) return;
      beyond += 1;
      isSign &&= Math.abs(separationM + geoidHeightM) <= SEPARATION_LIMIT_M;
      if (worst === null || difference > Math.abs(worst.separationM - worst.geoidHeightM))
        worst = { pointId: point.pointId, separationM, geoidHeightM, where: placeOf([fix], setup) };
    },
    warning() {
      if (worst === null) return null;
      const { pointId, separationM, geoidHeightM, where } = worst;
      const model = setup.geoid?.grid.name ?? 'the model';
      const metres = (value: number): string => `${formatFixed(value, 3)} m`;
      const more =
        beyond === 1 ? '' : `; ${beyond} occupations differ by more than ${SEPARATION_LIMIT_M} m, this one most`;
      return warningProblem('geoid-separation-differs', {
        message: `point ${pointId}: the receiver's geoid separation is ${metres(separationM)} and ${model} gives ${metres(geoidHeightM)}, ${isSign ? 'the same with the other sign' : `a difference of ${metres(separationM - geoidHeightM)}`}${more}`,
        where,
        hint: 'h = altitude + separation is in every height: check the sign and the geoid set in the receiver on a known point; models differ by 1 to 2 m, not by more',
      });
    },
  };
}
