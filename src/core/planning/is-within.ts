import type { ConditionPrediction } from './prediction.js';

/** Whether a target is within its tolerances under one of the conditions. */
export function isWithin(at: Pick<ConditionPrediction, 'horizontal' | 'vertical'>): boolean {
  return at.horizontal !== 'outside' && at.vertical !== 'outside';
}
