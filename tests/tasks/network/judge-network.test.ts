import { describe, expect, it } from 'vitest';
import type { AdjustedNetwork } from '../../../src/core/network/adjust-network.js';
import type { NetworkControlResult, NetworkObservationResult } from '../../../src/records/reports/network-report.js';
import {
  networkAnswer,
  networkComponents,
  networkControl,
  networkObservations,
} from '../../../src/tasks/network/judge-network.js';
import { nextSteps } from '../../../src/tasks/network/next-steps.js';
import type { NetworkResults } from '../../../src/tasks/network/network-results.js';

/** One observation as its equations were solved: numbers, how many of them others check, the test of the whole. */
interface Solved {
  readonly size: number;
  readonly checked: number;
  readonly test: number;
  readonly of?: number;
}

/** The tests of a solution whose equations these are, each number told apart by hundreds and ones. */
function testsOf(solved: readonly Solved[], from: number): object {
  const starts = solved.reduce<readonly number[]>((all, { size }) => [...all, (all.at(-1) as number) + size], [0]);
  const total = starts.at(-1) as number;
  const numbers = (first: number): Float64Array => Float64Array.from({ length: total }, (_, index) => first + index);
  return {
    rowStarts: Int32Array.from(starts),
    checkedDirections: Int32Array.from(solved, ({ checked }) => checked),
    blockTest: Float64Array.from(solved, ({ test }) => test),
    residuals: numbers(from + 100),
    redundancy: numbers(from + 200),
    w: Float64Array.from({ length: total }, (_, index) => (index === 1 ? NaN : from + 300 + index)),
    othersMinusObserved: numbers(from + 400),
  };
}

/** Vectors first, then levelling: each as it is in the free network and in the whole. */
function judged(
  free: readonly Solved[],
  final: readonly Solved[],
  excluded: readonly object[] = [],
): readonly NetworkObservationResult[] {
  const vectors = free.filter(({ size }) => size === 3).map((_, index) => ({ fromId: 'A', toId: `P${String(index)}` }));
  const levelled = free
    .filter(({ size }) => size === 1)
    .map((_, index) => ({ fromId: 'A', toId: `L${String(index)}` }));
  const origins = { equationOf: (kind: string, index: number) => (kind === 'vector' ? index : vectors.length + index) };
  const solution = (tests: object): object => ({ tests, solved: { built: { origins } } });
  return networkObservations({
    network: { vectors, levelled, distances: [] },
    // Twice the number of directions, so that a limit is known by what it is of.
    free: { ...solution(testsOf(free, 1000)), limits: { block: (directions: number) => 2 * directions } },
    final: solution(testsOf(final, 5000)),
    excluded,
  } as unknown as AdjustedNetwork);
}
const vector = (checked: number, test: number): Solved => ({ size: 3, checked, test });
const height = (checked: number, test: number): Solved => ({ size: 1, checked, test });

describe('an observation after the adjustment', () => {
  it('fails beyond the limit of its directions in the network that control does not bend, and not at it', () => {
    const verdicts = (one: Solved, whole = one): readonly unknown[] =>
      judged([one], [whole]).flatMap(({ verdict, reasons }) => [verdict, ...reasons]);
    expect(verdicts(vector(3, 6.01))).toEqual(['no', 'network-observation']);
    expect(verdicts(vector(3, 6))).toEqual(['within']);
    expect(verdicts(vector(2, 4.01))).toEqual(['no', 'network-observation']);
    expect(verdicts(vector(2, 4), vector(3, 4))).toEqual(['within']);
    // What others check in two of three directions is for review.
    expect(verdicts(vector(2, 4), vector(2, 4))).toEqual(['review', 'network-unchecked']);
    expect(verdicts(height(1, 2.01))).toEqual(['no', 'network-observation']);
    // Nothing but control checks it: no test of the free network.
    expect(verdicts(vector(0, 99), vector(3, 99))).toEqual(['within']);
    expect(verdicts(vector(0, 99), vector(0, 99))).toEqual(['review', 'network-unchecked']);
  });

  it('has residuals, redundancies and w of the whole, the test and what others say of the free network', () => {
    const [, second, level] = judged(
      [vector(3, 1), vector(3, 2), height(1, 0.5)],
      [vector(3, 7), vector(3, 8), height(1, 9)],
    );
    expect(second).toMatchObject({ kind: 'vector', index: 1, fromId: 'A', toId: 'P1' });
    expect(second?.residualsM).toEqual([5103, 5104, 5105]);
    expect(second?.redundancy).toEqual([5203, 5204, 5205]);
    expect(second?.w).toEqual([5303, 5304, 5305]);
    expect(second?.blockTest).toBe(2);
    expect(second?.estimatedBiasM).toEqual([1403, 1404, 1405]);
    expect(level?.residualsM).toEqual([5106]);
    expect(level?.estimatedBiasM).toEqual([1406]);
    // A w that is not known is none.
    expect(judged([vector(3, 1)], [vector(3, 1)])[0]?.w).toEqual([5300, null, 5302]);
  });

  it('that control alone checks has test and bias of the whole; that nothing checks has none', () => {
    const [byControl] = judged([vector(0, 1)], [vector(3, 7)]);
    expect(byControl?.blockTest).toBe(7);
    expect(byControl?.estimatedBiasM).toEqual([5400, 5401, 5402]);
    const [byNothing] = judged([vector(0, 1)], [vector(0, 7)]);
    expect(byNothing?.blockTest).toBeNull();
    expect(byNothing?.estimatedBiasM).toEqual([]);
  });

  it('that is left out has nothing but that it is', () => {
    const [out, other] = judged(
      [vector(3, 99), vector(3, 1)],
      [vector(3, 99), vector(3, 1)],
      [{ kind: 'vector', index: 0 }],
    );
    expect(out).toMatchObject({ verdict: 'no', reasons: ['network-excluded'], residualsM: [], w: [], blockTest: null });
    expect(other?.verdict).toBe('within');
  });
});

describe('control after the adjustment', () => {
  const tested = (own: object) => ({
    index: 0,
    checkedDirections: 3,
    test: 5,
    othersMinusStatedM: [0.01, 0.02, 0.03],
    ...own,
  });
  function controlOf(
    control: readonly object[],
    points: readonly object[],
    more: {
      readonly held?: readonly number[];
      readonly anchors?: readonly number[];
      readonly excludedControl?: readonly number[];
    } = {},
  ): readonly NetworkControlResult[] {
    return networkControl({
      network: { control },
      controlPoints: points,
      held: [],
      anchors: [],
      excludedControl: [],
      controlLimit: (directions: number) => 2 * directions,
      free: {
        solved: {
          list: {
            indexOf: new Map([
              ['K1', 0],
              ['K2', 1],
            ]),
          },
        },
      },
      ...more,
    } as unknown as AdjustedNetwork);
  }
  const K1 = { id: 'K1', held: 'fixed', position: {} };

  it('fails beyond the limit of its directions, and is for review where nothing tests it', () => {
    const of = (own: object): unknown =>
      controlOf([K1], [tested(own)]).map(({ verdict, reasons, test, limit }) => [verdict, ...reasons, test, limit])[0];
    expect(of({ test: 6 })).toEqual(['within', 6, 6]);
    expect(of({ test: 6.01 })).toEqual(['no', 'network-control', 6.01, 6]);
    expect(of({ test: 99, checkedDirections: 0 })).toEqual(['review', 'network-unchecked', null, null]);
    expect(controlOf([K1], [])[0]).toMatchObject({ verdict: 'review', test: null, differenceM: [null, null, null] });
    expect(controlOf([K1], [tested({ test: 99 })], { excludedControl: [0] })[0]).toMatchObject({
      verdict: 'no',
      reasons: ['network-excluded'],
    });
  });

  it('has differences along the axes that it holds', () => {
    const of = (own: object, values: readonly number[]): unknown =>
      controlOf([{ ...K1, ...own }], [tested({ othersMinusStatedM: values })])[0]?.differenceM;
    expect(of({}, [1, 2, 3])).toEqual([1, 2, 3]);
    expect(of({ held: 'plan' }, [1, 2])).toEqual([1, 2, null]);
    expect(of({ held: 'height' }, [3])).toEqual([null, null, 3]);
    expect(of({ position: null }, [3])).toEqual([null, null, 3]);
  });

  it('is a datum where it only anchors, and is not there where nothing observes it', () => {
    const held = (more: object): unknown =>
      controlOf([K1, { ...K1, id: 'K9' }], [tested({})], more).map(({ id, held: hold, isHolding }) => [
        id,
        hold,
        isHolding,
      ]);
    expect(held({ anchors: [0] })).toEqual([['K1', 'datum', false]]);
    expect(held({ anchors: [0], held: [0] })).toEqual([['K1', 'fixed', true]]);
    expect(held({})).toEqual([['K1', 'fixed', false]]);
  });
});

describe('the answer of a network', () => {
  const answer = (finalTest: string, scale: number, ...verdicts: readonly string[]): unknown => {
    const rows = verdicts.map((verdict) => ({ verdict }));
    const made = networkAnswer(
      { finalTest: { answer: finalTest }, scale } as unknown as AdjustedNetwork,
      rows.slice(0, 1) as never,
      rows.slice(1) as never,
    );
    return [made.answer, ...made.reasons];
  };
  it('is no where an observation or control fails, or residuals are larger than stated and the sigmas were not scaled', () => {
    expect(answer('within', 1, 'within', 'within')).toEqual(['within']);
    expect(answer('within', 1, 'no', 'within')).toEqual(['no']);
    expect(answer('within', 1, 'within', 'no')).toEqual(['no']);
    expect(answer('too-large', 1, 'within')).toEqual(['no', 'network-too-noisy']);
    expect(answer('too-large', 2.5, 'within')).toEqual(['review', 'network-too-noisy']);
    expect(answer('too-small', 1, 'within')).toEqual(['review', 'network-too-quiet']);
    expect(answer('within', 1, 'review', 'within')).toEqual(['review']);
    expect(answer('within', 1, 'within', 'review')).toEqual(['review']);
  });
});

describe('groups of observations', () => {
  it('are told apart where there are two and no more than twelve, and no more than two thousand vectors', () => {
    // Nothing is solved: the groups of too few or too many are not asked for.
    const components = (stations: number, vectors = stations): unknown =>
      networkComponents({
        network: {
          vectors: Array.from({ length: vectors }, (_, index) => ({ fromId: `S${String(index % stations)}` })),
        },
        free: {
          solved: {
            built: {
              origins: { length: Math.min(vectors, 20), of: (index: number) => ({ kind: 'vector', index }) },
              get equations(): never {
                throw new Error('solved');
              },
            },
          },
        },
      } as unknown as AdjustedNetwork);
    expect(components(1)).toEqual([]);
    expect(() => components(2)).toThrow('solved');
    expect(() => components(12)).toThrow('solved');
    expect(components(13)).toEqual([]);
    expect(() => components(2, 2000)).toThrow('solved');
    expect(components(2, 2001)).toEqual([]);
  });
});

describe('what to do next', () => {
  const steps = (own: object, adjusted: object = {}): readonly string[] =>
    nextSteps({
      observations: [],
      control: [],
      points: [],
      components: [],
      distortions: [],
      adjusted: { excluded: [], control: {}, pull: null, finalTest: { answer: 'within' }, ...adjusted },
      ...own,
    } as unknown as NetworkResults);
  const foul = (toId: string): object => ({ toId, reasons: ['network-observation'] });

  it('is nothing where nothing asks for it', () => {
    expect(steps({})).toEqual([]);
    expect(
      steps({
        observations: [{ toId: 'P', reasons: [] }],
        control: [{ id: 'K', reasons: ['network-unchecked'] }],
        points: [{ id: 'P', isChecked: true }],
      }),
    ).toEqual([]);
  });

  it('names what fails, each once, six and how many more', () => {
    expect(steps({ observations: [foul('P1'), foul('P1'), foul('P2')] })[0]).toContain('field notes of P1, P2: pole');
    const names = Array.from({ length: 6 }, (_, index) => `P${String(index)}`);
    expect(steps({ observations: names.map(foul) })[0]).toContain('P4, P5: pole');
    expect(steps({ observations: [...names, 'P9'].map(foul) })[0]).toContain('P4, P5 and 1 more: pole');
    expect(steps({ control: [{ id: 'K1', reasons: ['network-control'] }] })[0]).toContain('Check control K1: its');
    expect(steps({ points: [{ id: 'U', isChecked: false }] })[0]).toContain('Observe U once more');
    expect(
      steps({
        distortions: [
          { name: 'scale from B', answer: 'kept' },
          { name: 'other', answer: 'not-significant' },
        ],
      })[0],
    ).toContain('makes the scale from B: a');
    expect(steps({}, { excluded: [{}] })[0]).toContain('Find out why each observation');
    expect(steps({}, { control: null })[0]).toContain('Tie the network to more control');
  });

  it('blames the stated sigmas only where nothing else fails', () => {
    const noisy = { finalTest: { answer: 'too-large' } };
    expect(steps({}, noisy)).toEqual([
      'No single observation explains the residuals: the stated sigmas are likely too small.',
    ]);
    expect(steps({ components: [{}] }, noisy)[0]).toContain('see which group asks for larger sigmas');
    expect(steps({ observations: [foul('P')] }, noisy)).toHaveLength(1);
    expect(steps({ control: [{ id: 'K1', reasons: ['network-control'] }] }, noisy)).toHaveLength(1);
    expect(steps({}, { finalTest: { answer: 'too-small' } })[0]).toContain('smaller than stated');
  });
});
