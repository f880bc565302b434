import { describe, expect, it } from 'vitest';
import { createAcknowledged } from '../../../../src/cli/shell/messages/acknowledged.js';
import { errorProblem, warningProblem } from '../../../../src/records/problem.js';

const drift = warningProblem('point-drift', { message: 'P1 drifts' });

describe('createAcknowledged', () => {
  it('takes warnings whose code is known, and counts them', () => {
    const known = createAcknowledged();
    expect(known.takes(drift)).toBe(false);
    known.add({ 'point-drift': 'soft ground' });
    expect([known.takes(drift), known.takes(drift)]).toEqual([true, true]);
    expect(known.found()).toEqual([{ code: 'point-drift', reason: 'soft ground', count: 2 }]);
  });

  it('never takes an error', () => {
    const known = createAcknowledged();
    known.add({ 'value-missing': 'no' });
    expect(known.takes(errorProblem('value-missing', { message: 'is empty' }))).toBe(false);
    expect(known.found()).toEqual([]);
  });

  it('gives back what changes a verdict', () => {
    const known = createAcknowledged();
    known.add({ 'point-drift': 'soft ground' });
    known.takes(drift);
    expect(known.heldOf(new Set(['point-step']))).toEqual([]);
    expect(known.heldOf(new Set(['point-drift']))).toEqual([drift]);
  });
});
