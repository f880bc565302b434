import { describe, expect, it } from 'vitest';
import { constantLimit } from '../../../src/core/quality/standards/limit-rule.js';
import { STANDARDS } from '../../../src/core/quality/standards/standards.js';
import { checkLimits, rulesByUse } from '../../../src/tasks/check/judge/check-limits.js';
import type { LimitSources } from '../../../src/tasks/check/judge/check-limits.js';

// Regression: where limits come from, in which order, and which checks they hold in.
const NOTHING: LimitSources = {
  horizontalM: null,
  verticalM: null,
  file: [],
  standard: null,
  tolerance: { horizontalM: null, verticalM: null },
  takesTolerance: false,
};
const FILED = { rule: constantLimit('filed', 'up', 0.3), uses: ['design'] } as const;

function limitsOf(sources: Partial<LimitSources>): ReturnType<typeof checkLimits> {
  return checkLimits({ ...NOTHING, ...sources });
}

function namesOf(sources: Partial<LimitSources>): readonly string[] {
  const found = limitsOf(sources);
  return found.ok ? found.value.limits.map(({ rule }) => rule.name) : found.problems.map(({ code }) => code);
}

describe('the limits of a check', () => {
  it('are those asked for, then the file, the standard, and the tolerance where it is taken', () => {
    const standard = STANDARDS.find(({ rules }) => rules.length > 0) ?? null;
    expect(standard).not.toBeNull();
    const own = standard === null ? [] : standard.rules.map(({ name }) => name);
    expect(
      namesOf({
        horizontalM: 0.1,
        verticalM: 0.2,
        file: [FILED],
        standard,
        tolerance: { horizontalM: 0.05, verticalM: 0.06 },
        takesTolerance: true,
      }),
    ).toEqual([
      'horizontal limit',
      'vertical limit',
      'filed',
      ...own,
      'tolerance of the session, horizontal',
      'tolerance of the session, vertical',
    ]);
  });

  it('leave the tolerance of an axis unused that has no other limit, and say so', () => {
    const tolerance = { horizontalM: 0.05, verticalM: 0.06 };
    const unused = (sources: Partial<LimitSources>): unknown => {
      const found = limitsOf({ tolerance, ...sources });
      return found.ok ? found.value.unusedTolerance : found.problems;
    };
    expect(unused({})).toEqual(tolerance);
    expect(unused({ horizontalM: 0.1 })).toEqual({ horizontalM: null, verticalM: 0.06 });
    expect(unused({ horizontalM: 0.1, file: [FILED] })).toBeNull();
    expect(unused({ takesTolerance: true })).toBeNull();
  });

  it('are refused where one is 0, or a tolerance is to be taken and none is stated', () => {
    expect(namesOf({ verticalM: 0 })).toEqual(['usage-invalid']);
    expect(namesOf({ takesTolerance: true })).toEqual(['config-missing']);
  });

  it('hold in the checks they belong to', () => {
    const found = limitsOf({ horizontalM: 0.1, file: [FILED] });
    const { controlRules, repeatRules, designRules } = rulesByUse(found.ok ? found.value.limits : []);
    expect(controlRules.map(({ name }) => name)).toEqual(['horizontal limit']);
    expect(repeatRules).toEqual(controlRules);
    expect(designRules.map(({ name }) => name)).toEqual(['horizontal limit', 'filed']);
  });
});
