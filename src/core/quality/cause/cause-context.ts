import type { CauseDay } from './cause-day.js';
import type { CauseModel } from './cause-model.js';
import type { ObservationList } from './observation-list.js';
import type { Whitener } from './whitener.js';

/** What every family of hypotheses is made from. */
export interface CauseContext {
  readonly day: CauseDay;
  readonly list: ObservationList;
  readonly whitener: Whitener;
  /** The residuals, whitened. */
  readonly values: Float64Array;
  /** Orthonormal: what was estimated already and is taken off `values`; patterns are taken across it. */
  readonly taken: readonly Float64Array[];
  /** How many times larger than stated the noise that whitens is; 1: as stated. Any other was estimated from these residuals. */
  readonly noiseFactor: number;
  readonly hasHorizontal: boolean;
  readonly hasVertical: boolean;
}

/** A family of hypotheses: its forms for this day. */
export type CauseFamily = (context: CauseContext) => readonly CauseModel[];
