import { judgedBy } from './judge/check-tolerances-judged-by.js';
import type { JudgedBy } from './judge/check-tolerances-judged-by.js';
import type { CheckRow } from './judge/check-tolerances-setup.js';

const WORDS: Readonly<Record<JudgedBy, string>> = {
  limit: 'by its limit',
  uncertainty: 'by its stated uncertainty, no limit was set',
  nothing: 'by nothing: neither a limit nor an uncertainty is known',
};

/** How plan and height of some comparisons were judged; null where there is none to speak of. */
export function judgedWords(rows: Iterable<CheckRow>): string | null {
  const counts = countWays(rows);
  const parts = (['plan', 'height'] as const).flatMap((axis) => {
    const ways = (Object.keys(WORDS) as JudgedBy[]).flatMap((way) => {
      const count = counts[axis][way];
      return count === 0 ? [] : [{ way, count }];
    });
    if (ways.length === 0) return [];
    const [only] = ways;
    return [
      `${axis} ${ways.length === 1 && only !== undefined ? WORDS[only.way] : ways.map(({ way, count }) => `${String(count)} ${WORDS[way]}`).join('; ')}`,
    ];
  });
  const [plan, height] = parts;
  if (plan === undefined) return null;
  if (height === undefined) return plan;
  const isSame = plan.slice('plan '.length) === height.slice('height '.length);
  return isSame ? `plan and height each ${plan.slice('plan '.length)}` : `${plan}, ${height}`;
}

/** How many comparisons were judged which way, plan and height each. */
function countWays(rows: Iterable<CheckRow>): Readonly<Record<'plan' | 'height', Readonly<Record<JudgedBy, number>>>> {
  const counts = { plan: { limit: 0, uncertainty: 0, nothing: 0 }, height: { limit: 0, uncertainty: 0, nothing: 0 } };
  for (const row of rows) {
    for (const axis of ['plan', 'height'] as const) {
      const way = judgedBy(row, axis);
      if (way !== null) counts[axis][way] += 1;
    }
  }
  return counts;
}
