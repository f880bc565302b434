import type { AngleAxis } from '../../src/core/numeric/text/angle-text.js';
import { parseAngle } from '../../src/core/numeric/text/angle-text.js';

/** The angle written in a reference table, degrees; throws when it cannot be read. */
export function angleOf(text: string, axis: AngleAxis = 'any'): number {
  const outcome = parseAngle(text, axis);
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message ?? text);
  return outcome.value;
}
