import type { OpenedFixes } from '../../../../files/reduction/open-fixes.js';
import { warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { isGiven } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';

/** Warnings for options that hold only where a row gives no value of its own, and rows may. */
export function overruledOptions({ source, input }: OpenedFixes, invocation: Invocation): readonly Problem[] {
  const pairs = [
    ['pole_length_m', '--pole-length', 'poleLength'],
    ['reference_point', '--reference-point', 'referencePoint'],
  ] as const;
  return pairs.flatMap(([column, flag, name]) =>
    !isGiven(invocation, name) || !input.has(column)
      ? []
      : [
          warningProblem('usage-overruled', {
            message: `the rows have a ${column} of their own, and it counts before ${flag}`,
            where: { source: source.name },
            hint: `${flag} holds only where that cell is empty; to put it in place of the rows' word, take the column out`,
          }),
        ],
  );
}
