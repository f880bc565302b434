import { describe, expect, it } from 'vitest';
import type { Network } from '../../../../src/core/network/network.js';
import type { NetworkControlRow, Placed } from '../../../../src/records/network-rows.js';
import { controlNamesDoubted } from '../../../../src/tasks/network/input/control-names.js';

// Invented names.
const lines = (...ends: readonly (readonly [string, string])[]) =>
  ends.map(([fromId, toId]) => ({ fromId, toId })) as unknown as Network['levelled'];
const control = (...ids: readonly string[]) =>
  ids.map((pointId, index) => ({
    value: { pointId },
    place: { source: 'control.csv', line: index + 2 },
  })) as unknown as readonly Placed<NetworkControlRow>[];
const none = { vectors: [], levelled: [], distances: [] };

describe('control that no observation has', () => {
  it('is doubted where an observation has its name in another writing, at its line', () => {
    const problems = controlNamesDoubted(control('QN-1', 'QN 02', 'BM9'), {
      ...none,
      levelled: lines(['QN-1', 'QN-2']),
    });
    expect(
      problems.map(({ code, severity, where, received, hint }) => [code, severity, where, received, hint]),
    ).toEqual([
      [
        'value-unknown-id',
        'warning',
        { source: 'control.csv', line: 3 },
        'QN 02',
        'ids are compared letter by letter: is it the observed QN-2?',
      ],
    ]);
  });
  it.each(['vectors', 'levelled', 'distances'] as const)('is looked for among both ends of %s', (kind) => {
    expect(controlNamesDoubted(control('A', 'B'), { ...none, [kind]: lines(['A', 'b-']) })).toHaveLength(1);
    expect(controlNamesDoubted(control('A', 'B'), { ...none, [kind]: lines(['A', 'B']) })).toEqual([]);
  });
});
