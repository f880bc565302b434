import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { UsedLimit } from '../../core/quality/standards/limit-rule.js';
import { rulesByUse } from '../../tasks/check/judge/check-limits.js';
import type { CheckSetup } from '../../tasks/check/judge/check-tolerances-setup.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';
import { checkAxes } from './check-axes.js';
import { loadCheckSetup } from './load-check-setup.js';

/**
 * Loads what a session names for a check (system, geoid, bases), with the limits that differences are held against.
 *
 * Given: a session; limits, none where differences are held against their stated uncertainty alone. Returned: what `checkPoints` takes;
 * without a system pairs are taken for metres east and north. Problems: those of the files that the session names.
 *
 * @example
 * const limits = await readLimitsFile('limits.toml');
 * const setup = limits.ok ? await prepareCheck(session, limits.value) : limits;
 */
export async function prepareCheck(
  session: SessionInPlace,
  limits: readonly UsedLimit[] = [],
): Promise<Outcome<CheckSetup>> {
  const loaded = await loadCheckSetup(session);
  if (!loaded.ok) return loaded;
  const { setup } = loaded.value;
  return success({ ...setup, ...rulesByUse(limits), axes: checkAxes(setup.grid, null), day: null }, loaded.problems);
}
