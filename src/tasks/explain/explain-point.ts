import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { explainEpoch } from './explain-epoch.js';
import { explainPosition } from './position/explain-position.js';
import { explainUncertainty } from './explain-uncertainty.js';

/**
 * The reduction of one occupation as a worked example. Every number is the one the reduction used;
 * nothing is computed again.
 *
 * @example
 * // A point of examples/quillback-pan.
 * const session = await readSessionFile('session.toml');
 * const { value: reduction } = await prepareReduction(session.value, ['fixes.csv']);
 * const reduced = [];
 * const reducer = createReducer(reduction.setup, { onPoint: (one) => reduced.push(one), onProblems: () => {} });
 * const { value: fixes } = await readFixesFile('fixes.csv', reduction);
 * for await (const block of fixes.blocks()) reducer.push(block.value.fixes);
 * reducer.finish();
 * const [first] = explainPoint(reduced[0], reduction.setup);
 * first.substitution.length > 0 && first.source.length > 0; // true
 */
export function explainPoint(reduced: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  return [...explainEpoch(reduced, setup), ...explainPosition(reduced, setup), ...explainUncertainty(reduced, setup)];
}

/**
 * Steps as numbered plain text.
 *
 * @example
 * const step = { title: 'Height', formula: 'H = h - N', substitution: ['1043.2 - 31.7'], result: ['1011.5 m'], source: 'definition' };
 * workingText('Peg 1', [step]).split('\n')[5]; // '   = 1011.5 m'
 */
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
