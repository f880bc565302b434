import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { baseProblems } from '../../tasks/bases/base-doubts.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import { loadReductionSetup } from './setup/load-reduction-setup.js';
import { phaseCentreMissing } from './setup/phase-centre-missing.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';

/** A reduction ready to begin: its setup, what files of fixes are read by, what written points say of themselves. */
export interface Reduction {
  readonly setup: ReductionSetup & { readonly grid: GridSystem };
  readonly session: SessionInPlace;
  /** As typed, in the order that `Fix.place.sourceIndex` counts. */
  readonly paths: readonly string[];
}

/**
 * Loads what a session names (systems, geoid, shift) and prepares its bases, with the refusals of the command.
 *
 * Given: a session; the files that will be reduced with it. Returned: what `createReducer`, `readFixesFile` and
 * `writePointsFile` take. Problems: config-missing (also a phase centre whose offset is not stated), system-mismatch,
 * base-shift-large, base-height-kind, those of the files named. Warnings say what the uncertainty leaves out.
 *
 * @example
 * const session = await readSessionFile('session.toml');
 * const reduction = session.ok ? await prepareReduction(session.value, ['fixes.csv']) : session;
 */
export async function prepareReduction(session: SessionInPlace, paths: readonly string[]): Promise<Outcome<Reduction>> {
  const missing = phaseCentreMissing(session.session, paths, null);
  if (missing !== null) return failure(missing);
  const setup = await loadReductionSetup(session, paths);
  if (!setup.ok) return setup;
  const shifted = baseProblems(setup.value);
  return shifted.length > 0 ? failureOf(shifted) : success({ setup: setup.value, session, paths }, setup.problems);
}
