import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { explainEpoch } from './explain-epoch.js';
import { explainPosition } from './explain-position.js';
import { explainUncertainty } from './explain-uncertainty.js';

/**
 * The reduction of one occupation as a worked example. Every number is the one the reduction used;
 * nothing is computed again.
 */
export function explainPoint(reduced: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  return [...explainEpoch(reduced, setup), ...explainPosition(reduced, setup), ...explainUncertainty(reduced, setup)];
}

/** Steps as numbered plain text. */
export function workingText(title: string, steps: readonly WorkingStep[]): string {
  const lines = [title, ''];
  steps.forEach((step, index) => {
    lines.push(`${index + 1}. ${step.title}`, `   ${step.formula}`);
    for (const line of step.substitution) lines.push(`     ${line}`);
    for (const line of step.result) lines.push(`   = ${line}`);
    lines.push(`   [${step.source}]`, '');
  });
  return `${lines.join('\n')}\n`;
}
