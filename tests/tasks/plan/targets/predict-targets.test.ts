import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../../src/records/outcome.js';
import { placeBases } from '../../../../src/tasks/plan/place-bases.js';
import { createPlanTotals } from '../../../../src/tasks/plan/plan-totals.js';
import { predictTargets } from '../../../../src/tasks/plan/targets/predict-targets.js';
import type { PlannedTarget } from '../../../../src/tasks/plan/targets/predict-targets.js';
import type { PlanSetup, PlanTarget } from '../../../../src/tasks/plan/targets/plan-target.js';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { seededRandom } from '../../../support/seeded-random.js';
import { candidate, choice, PREDICTION, setupOf, target } from '../plan-fixture.js';

const BASE = { id: 'base', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1040 };
const given = (more: Partial<PlanSetup> = {}): PlanSetup => setupOf({ kind: 'given', base: BASE }, more);

function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map(({ message }) => message).join('; '));
  return outcome.value;
}

function plan(setup: PlanSetup, targets: readonly PlanTarget[]): readonly PlannedTarget[] {
  return [...predictTargets(setup, targets, valueOf(placeBases(setup, targets)))];
}

describe('predictTargets', () => {
  it.skipIf(!hasProgram('GeodSolve'))(
    'measures every line as GeodSolve does, to 1e-6 m (skipped where the program is absent)',
    () => {
      const random = seededRandom(5);
      const targets = Array.from({ length: 200 }, (_, index) =>
        target(`p${index}`, random.between(-33, -30), random.between(20, 23)),
      );
      const lines = runProgram(
        'GeodSolve',
        ['-i', '-p', '9'],
        targets
          .map((one) => `${BASE.latitudeDeg} ${BASE.longitudeDeg} ${one.latitudeDeg} ${one.longitudeDeg}`)
          .join('\n'),
      ).map(numbersOf);
      plan(given(), targets).forEach(({ prediction }, index) => {
        expect(Math.abs(prediction.baselineM - (lines[index]?.[2] ?? NaN))).toBeLessThan(1e-6);
      });
    },
  );

  it('says of each target what would have to change', () => {
    const near = { latitudeDeg: -31.51, longitudeDeg: 21.4 };
    const far = { latitudeDeg: -31.0, longitudeDeg: 21.4 };
    const one = (
      place: { latitudeDeg: number; longitudeDeg: number },
      toleranceHorizontalM: number,
      limits: Partial<PlanSetup['limits']> = {},
    ): string | undefined =>
      plan(given({ limits: { separationS: null, minEpochs: 1, maxEpochs: 1800, maxOccupations: 4, ...limits } }), [
        target('p', place.latitudeDeg, place.longitudeDeg, { toleranceHorizontalM, toleranceVerticalM: null }),
      ])[0]?.wayOut;
    expect(one(near, 0.05)).toBe('none');
    expect(one(far, 0.06)).toBe('longer');
    expect(one(far, 0.045)).toBe('repeat');
    expect(one(far, 0.045, { maxOccupations: 1 })).toBe('nearer-base');
    expect(one(far, 0.02)).toBe('tolerance');
  });

  it('stays within when the one and only tolerance is met, and is outside when either axis fails', () => {
    const verdict = (toleranceHorizontalM: number | null, toleranceVerticalM: number | null): string | undefined =>
      plan(given(), [target('p', -31.3, 21.4, { toleranceHorizontalM, toleranceVerticalM })])[0]?.verdict;
    expect(verdict(1, null)).toBe('within');
    expect(verdict(1, 0.03)).toBe('outside');
    expect(verdict(0.02, 1)).toBe('outside');
  });

  it('is judged by the conditions asked for, and totals count all three', () => {
    const targets = [target('p', -31.2, 21.4, { toleranceHorizontalM: 0.06, toleranceVerticalM: null })];
    const verdicts = (['quiet', 'normal', 'active'] as const).map(
      (conditions) => plan(given({ conditions }), targets)[0]?.verdict,
    );
    expect(verdicts).toEqual(['within', 'within', 'outside']);
    const totals = createPlanTotals();
    for (const planned of plan(given({ conditions: 'active' }), targets)) totals.add(planned);
    expect([...totals.withinBy.values()]).toEqual([1, 1, 0]);
    expect(totals.outside()).toBe(1);
    expect(totals.bases.get('base')).toMatchObject({ targets: 1, outside: 1, farthestId: 'p' });
  });

  it('shows a wrong base only when asked, as the same translation at every point', () => {
    const targets = [target('near', -31.49, 21.4), target('far', -31.0, 21.4)];
    expect(plan(given(), targets).map(({ effect }) => effect)).toEqual([null, null]);
    const effects = plan(given({ baseErrorM: 3 }), targets).map(({ effect }) => effect);
    expect(effects.map((effect) => effect?.translationM)).toEqual([3, 3]);
    expect(effects[1]?.residualM).toBeCloseTo(0.063e-6 * 3 * (effects[1]?.baselineM ?? 0), 9);
  });

  it('names at shared targets the other base they should be observed from', () => {
    const places = [candidate('west', 0, 0), candidate('east', 0, 0.5)];
    const targets = [target('w', 0, 0.01), target('m', 0, 0.249), target('e', 0, 0.55)];
    const found = plan(setupOf({ kind: 'k', k: 2, ...choice(places) }), targets);
    expect(found.map(({ base }) => base.id)).toEqual(['west', 'west', 'east']);
    expect(found.map(({ tieBases }) => tieBases)).toEqual([[], ['east'], []]);
  });

  it('gets no worse with more epochs in the planned occupation', () => {
    const figure = (epochCount: number): number =>
      plan(given({ prediction: { ...PREDICTION, epochCount } }), [target('p', -31.2, 21.4)])[0]?.at.uncertainty
        .vertical95M ?? NaN;
    expect(figure(600)).toBeLessThan(figure(60));
    expect(figure(60)).toBeLessThan(figure(1));
  });
});
