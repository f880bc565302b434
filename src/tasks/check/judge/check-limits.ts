import { constantLimit, EVERY_USE } from '../../../core/quality/standards/limit-rule.js';
import type { LimitRule, UsedLimit } from '../../../core/quality/standards/limit-rule.js';
import type { Standard } from '../../../core/quality/standards/standards.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { ToleranceSettings } from '../../../records/session.js';
import type { CheckSetup } from './check-tolerances-setup.js';

/** What a tolerance of a session is meant to hold: 95 % of differences. */
const TOLERANCE_PROBABILITY = 0.95;

/** Where the limits of a check may come from. */
export interface LimitSources {
  /** Limits of plan and height that are asked for, metres. */
  readonly horizontalM: number | null;
  readonly verticalM: number | null;
  /** Rules of a limits file. */
  readonly file: readonly UsedLimit[];
  readonly standard: Standard | null;
  /** Of the session; it is a limit only where that is asked for. */
  readonly tolerance: ToleranceSettings;
  readonly takesTolerance: boolean;
}

/** The limits of a check, and the tolerance of the session that is none of them; null: it says no more than they do. */
export interface CheckLimits {
  readonly limits: readonly UsedLimit[];
  readonly unusedTolerance: ToleranceSettings | null;
}

/**
 * Every limit of a check: those asked for, the file's, the standard's, and the tolerance of the session where it is taken. Plan or
 * height without any is held against its uncertainty. Problems: usage-invalid for a limit of 0; config-missing where a tolerance is
 * to be taken and none is stated.
 */
export function checkLimits(sources: LimitSources): Outcome<CheckLimits> {
  const { file, standard, tolerance, takesTolerance } = sources;
  const asked = askedLimits(sources);
  if (!asked.ok) return asked;
  const rules = [...asked.value, ...file.map(({ rule }) => rule), ...(standard === null ? [] : standard.rules)];
  const everywhere = (list: readonly LimitRule[]): readonly UsedLimit[] =>
    list.map((rule) => ({ rule, uses: EVERY_USE }));
  const own = [...everywhere(asked.value), ...file, ...everywhere(standard === null ? [] : standard.rules)];
  if (!takesTolerance) {
    const isOpen = (up: boolean): boolean => !rules.some(({ axis }) => (axis === 'up') === up);
    const unused = {
      horizontalM: isOpen(false) ? tolerance.horizontalM : null,
      verticalM: isOpen(true) ? tolerance.verticalM : null,
    };
    return success({ limits: own, unusedTolerance: toleranceLimits(unused).length > 0 ? unused : null });
  }
  const taken = toleranceLimits(tolerance);
  if (taken.length > 0) return success({ limits: [...own, ...everywhere(taken)], unusedTolerance: null });
  return failure(
    errorProblem('config-missing', {
      message: 'there is no tolerance to take as a limit',
      hint: 'write [tolerance] with horizontal_m or vertical_m into the session, or give --limit-horizontal and --limit-vertical',
    }),
  );
}

function askedLimits({ horizontalM, verticalM }: LimitSources): Outcome<readonly LimitRule[]> {
  const rules: LimitRule[] = [];
  for (const [value, axis, name] of [
    [horizontalM, '2d', 'horizontal limit'],
    [verticalM, 'up', 'vertical limit'],
  ] as const) {
    if (value === null) continue;
    if (!(value > 0))
      return failure(
        errorProblem('usage-invalid', { message: `the ${name} must be more than 0 metres`, received: String(value) }),
      );
    rules.push(constantLimit(name, axis, value));
  }
  return success(rules);
}

function toleranceLimits({ horizontalM, verticalM }: ToleranceSettings): readonly LimitRule[] {
  const limit = (words: string, axis: '2d' | 'up', valueM: number | null): readonly LimitRule[] =>
    valueM === null ? [] : [constantLimit(`tolerance of the session, ${words}`, axis, valueM, TOLERANCE_PROBABILITY)];
  return [...limit('horizontal', '2d', horizontalM), ...limit('vertical', 'up', verticalM)];
}

/** The rules of each kind of check. */
export function rulesByUse(
  limits: readonly UsedLimit[],
): Pick<CheckSetup, 'controlRules' | 'repeatRules' | 'designRules'> {
  const rulesFor = (use: UsedLimit['uses'][number]): readonly LimitRule[] =>
    limits.filter(({ uses }) => uses.includes(use)).map(({ rule }) => rule);
  return { controlRules: rulesFor('control'), repeatRules: rulesFor('repeats'), designRules: rulesFor('design') };
}
