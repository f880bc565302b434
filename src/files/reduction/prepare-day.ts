import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { OccupationInterval } from '../../io/tables/fixes/occupations-read.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { baseProblems } from '../../tasks/bases/base-doubts.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';
import type { Surroundings } from '../surroundings.js';
import { loadReductionSetup } from './setup/load-reduction-setup.js';

/** A day of a run: what it reads, and the session that holds for it. A run without a job has one. */
export interface DayPlan {
  /** Its name in the job; null: of no job. */
  readonly id: string | null;
  /** As typed; `-` for standard input. */
  readonly paths: readonly string[];
  /** The place of the first of them among all inputs of the run. */
  readonly firstSource: number;
  /** Where the paths start from. */
  readonly surroundings: Surroundings;
  readonly resolved: SessionInPlace;
  /** Named occupations of a log; null: none are named. */
  readonly occupations: readonly OccupationInterval[] | null;
  /** Whether a base may be known a kilometre or more from what it broadcast. */
  readonly acceptsBaseShift: boolean;
}

/** What a day is reduced with. */
export type DayReduction = ReductionSetup & { readonly grid: GridSystem };

/** Loads what a day names. Problems: those of `loadReductionSetup`; base-shift-large, base-height-kind. `sources`: names of all inputs of the run. */
export async function prepareDay(
  { resolved, acceptsBaseShift }: DayPlan,
  sources: readonly string[],
): Promise<Outcome<DayReduction>> {
  const setup = await loadReductionSetup(resolved, sources);
  if (!setup.ok) return setup;
  const shifted = acceptsBaseShift ? [] : baseProblems(setup.value);
  return shifted.length > 0 ? failureOf([...setup.problems, ...shifted]) : success(setup.value, setup.problems);
}
