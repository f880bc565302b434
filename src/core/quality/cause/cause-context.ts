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
  readonly hasHorizontal: boolean;
  readonly hasVertical: boolean;
}

/** A family of hypotheses: its forms for this day. */
export type CauseFamily = (context: CauseContext) => readonly CauseModel[];
