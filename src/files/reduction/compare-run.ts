import { entryAt, present } from '../../records/present.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import { finishDays } from '../../tasks/job/finish-days.js';
import { finishHeld } from '../../tasks/join/held-points.js';
import type { FinishedPoints, HeldQuestions } from '../../tasks/join/held-points.js';
import { dayOfRepeats } from '../../tasks/repeats/day-of-repeats.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import type { ReductionFlow } from './reduction-flow.js';

/** Held points are released so many bytes at a time. */
const FULL = 1 << 18;

/** What comparing the occupations of a run found, its points written. */
export interface ComparedRun extends FinishedPoints {
  /** What each day of a job says of its own noise, where that was asked for; empty without a job. */
  readonly days: readonly { readonly id: string; readonly day: DayVariance | null }[];
}

/**
 * Compares the occupations of each point, joins them where that is asked for, and releases points that were held.
 *
 * Given: the flow of a run whose inputs are read; what its points are compared with: the setup of the run, or that of all days
 * of a job. Points that are not held have been written; those in dispute are counted anew.
 */
export async function compareRun(
  flow: ReductionFlow,
  setup: ReductionSetup,
  asked: HeldQuestions,
): Promise<ComparedRun> {
  const first = entryAt(flow.days, 0);
  if (!flow.isHeld) {
    const { repeats, disputed } = first.keeper.compare();
    flow.totals.addDisputed(disputed);
    return { repeats, disputed, pairs: null, day: dayOfRepeats(repeats), revised: new Map(), days: [] };
  }
  const points =
    first.id === null
      ? onlyHeld(first.held, setup, asked)
      : finishDays(
          flow.days.map((day) => ({ id: present(day.id, 'the day of a job'), setup: day.setup, held: day.held })),
          setup,
          asked,
        );
  let step = points.next();
  for (; step.done !== true; step = points.next()) {
    flow.release(step.value);
    if (flow.writer.size() > FULL) await flow.flush(FULL);
  }
  for (const { held } of flow.days) held.close();
  return step.value;
}

function* onlyHeld(...given: Parameters<typeof finishHeld>): Generator<ReducedPoint, ComparedRun> {
  return { ...(yield* finishHeld(...given)), days: [] };
}
