import { describe, expect, it } from 'vitest';
import type { NetworkResults } from '../../../src/tasks/network/network-results.js';
import { nextSteps } from '../../../src/tasks/network/next-steps.js';

interface Made {
  readonly foul?: readonly string[];
  readonly foulControl?: readonly string[];
  readonly unchecked?: readonly string[];
  readonly excluded?: number;
  readonly kept?: readonly string[];
  readonly hasControl?: boolean;
  readonly answer?: string;
  readonly components?: number;
}

/** Results as far as the steps look at them. */
function steps({
  foul = [],
  foulControl = [],
  unchecked = [],
  excluded = 0,
  kept = [],
  hasControl = true,
  answer = 'passes',
  components = 0,
}: Made): readonly string[] {
  return nextSteps({
    adjusted: {
      excluded: Array.from({ length: excluded }, () => ({})),
      control: hasControl ? {} : null,
      finalTest: { answer },
      pull: null,
    },
    observations: [
      { toId: 'FINE', reasons: ['network-unchecked'] },
      ...foul.map((toId) => ({ toId, reasons: ['network-observation'] })),
    ],
    control: [{ id: 'HOLDS', reasons: [] }, ...foulControl.map((id) => ({ id, reasons: ['network-control'] }))],
    points: [{ id: 'SEEN', isChecked: true }, ...unchecked.map((id) => ({ id, isChecked: false }))],
    components: Array.from({ length: components }, () => ({})),
    distortions: [{ name: 'none', answer: 'small' }, ...kept.map((name) => ({ name, answer: 'kept' }))],
  } as unknown as NetworkResults);
}

describe('what to do next with a network', () => {
  it('is nothing where nothing is wrong', () => {
    expect(steps({})).toEqual([]);
  });

  it('begins with what is foul, each end once, six of them by name', () => {
    expect(steps({ foul: ['A'] })).toEqual([
      'Look at the field notes of A: pole and antenna heights, the name of the mark, the initialisation. Observe again what you cannot explain; --exclude-outliers leaves out what the others contradict.',
    ]);
    const [six] = steps({ foul: ['A', 'A', 'B', 'C', 'D', 'E', 'F'] });
    expect(six).toContain('of A, B, C, D, E, F: pole');
    const [seven] = steps({ foul: ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'] });
    expect(seven).toContain('of A, B, C, D, E, F and 2 more: pole');
    expect(steps({ foul: ['P10', 'P1', 'P2'] })[0]).toContain('of P1, P2, P10: pole');
  });

  it('names control, what was left out, distortions and what nothing checks, in this order', () => {
    expect(
      steps({ foulControl: ['C1'], excluded: 1, kept: ['scale of B1'], hasControl: false, unchecked: ['P1', 'P2'] }),
    ).toEqual([
      'Check control C1: its coordinate as it was published, its frame and epoch, and that the right mark was occupied.',
      'Find out why each observation that was left out is wrong, and observe it again: a reason unknown may be in others too.',
      'Find out what makes the scale of B1: a coordinate of the base in another frame or epoch, another model of the antenna, or weather that changes with height.',
      'Tie the network to more control: nothing checks the one station that holds it.',
      'Observe P1, P2 once more, from another base or on another day: a blunder there would go in whole and unseen.',
    ]);
  });

  it('puts residuals that are too large down to the sigmas only where nothing is foul', () => {
    expect(steps({ answer: 'too-large' })).toEqual([
      'No single observation explains the residuals: the stated sigmas are likely too small.',
    ]);
    expect(steps({ answer: 'too-large', components: 1 })).toEqual([
      'No single observation explains the residuals: see which group asks for larger sigmas, and why.',
    ]);
    expect(steps({ answer: 'too-large', foul: ['A'] })).toHaveLength(1);
    expect(steps({ answer: 'too-large', foulControl: ['A'] })).toHaveLength(1);
    expect(steps({ answer: 'too-small' })).toEqual([
      'Residuals are smaller than stated: nothing needs mending; the stated sigmas are larger than they need be.',
    ]);
  });
});
