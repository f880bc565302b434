import { describe, expect, it } from 'vitest';
import { adjustNetwork } from '../../../src/core/network/adjust-network.js';
import type { AdjustedNetwork } from '../../../src/core/network/adjust-network.js';
import { stationPull } from '../../../src/core/network/evidence/control-pull.js';
import type { ControlPoint, Network } from '../../../src/core/network/network.js';
import { adjustedPosition } from '../../../src/core/network/solve-network.js';
import { networkPoints, networkRelations } from '../../../src/tasks/network/network-report.js';
import type { NetworkResults } from '../../../src/tasks/network/network-results.js';
import { pullSentence } from '../../../src/tasks/network/pull-sentence.js';
import { value } from '../../io/support.js';
import { madeNetwork } from './made-network.js';

// An invented network of a seeded simulator; the check of each number is another adjustment, without the control in question.
const CHOICE = { datum: 'control', excludesOutliers: false, estimatesVariance: false } as const;
const { network: RIGHT } = madeNetwork(40, 5);
const adjusted = (network: Network): AdjustedNetwork => value(adjustNetwork(network, CHOICE));

/** Control with one coordinate off by so much, metres. */
function shifted(network: Network, id: string, xM: number): Network {
  const control = network.control.map((point): ControlPoint => {
    const { position } = point;
    return point.id === id && position !== null ? { ...point, position: { ...position, xM: position.xM + xM } } : point;
  });
  return { ...network, control };
}

function without(network: Network, id: string): Network {
  return { ...network, control: network.control.filter((point) => point.id !== id) };
}

function results(network: Network, excludesOutliers = false): Pick<NetworkResults, 'adjusted' | 'points'> {
  const systems = { ellipsoid: network.ellipsoid, grid: null, geoid: null, geoidSigmaM: null };
  const own = value(adjustNetwork(network, { ...CHOICE, excludesOutliers }));
  return { adjusted: own, points: networkPoints(own, systems, networkRelations(own), new Map()) };
}

const pulledOf = ({ points }: Pick<NetworkResults, 'points'>): readonly string[] =>
  points.flatMap(({ id, reasons }) => (reasons.includes('network-control-pulls') ? [id] : []));

describe('control that fails and holds the coordinates all the same', () => {
  const [, wrong] = RIGHT.control;
  const id = wrong?.id ?? '';
  const off = shifted(RIGHT, id, 0.5);

  it('is not there where all control agrees', () => {
    expect(RIGHT.control.length).toBeGreaterThan(3);
    expect(adjusted(RIGHT).pull).toBeNull();
    expect(pulledOf(results(RIGHT))).toEqual([]);
    expect(pullSentence(results(RIGHT))).toBeNull();
  });

  it('is found, and the places without it are those of a network that never had it', () => {
    const { pull, final } = adjusted(off);
    expect(pull?.control.map((index) => off.control[index]?.id)).toEqual([id]);
    const alone = adjusted(without(RIGHT, id)).final.solved;
    if (pull?.without == null) throw new Error('nothing is left');
    for (const [station, { id: name }] of pull.without.list.stations.entries()) {
      const [own, other] = [adjustedPosition(pull.without, station), adjustedPosition(alone, station)];
      if (own === null || other === null) throw new Error(`no place of ${name}`);
      for (const axis of ['xM', 'yM', 'zM'] as const) expect(own[axis]).toBeCloseTo(other[axis], 7);
      const { planM, upM } = stationPull(final.solved, pull.without, station);
      const held = adjustedPosition(final.solved, station);
      if (held === null) throw new Error(`no place of ${name}`);
      expect(Math.hypot(planM ?? NaN, upM)).toBeCloseTo(
        Math.hypot(held.xM - other.xM, held.yM - other.yM, held.zM - other.zM),
        7,
      );
    }
  });

  it('makes the stations that it moves beyond their uncertainty for review, and says so', () => {
    const found = results(off);
    const pulled = pulledOf(found);
    expect(pulled.length).toBeGreaterThan(30);
    for (const point of found.points)
      expect(point.verdict, point.id).toBe(pulled.includes(point.id) ? 'review' : 'within');
    expect(pullSentence(found)).toMatch(
      new RegExp(`^${id} holds them, and the other control has \\S+ \\d\\.\\d{3} m away in plan`, 'u'),
    );
  });

  it('is gone once it is left out', () => {
    const found = results(off, true);
    expect(found.adjusted.excludedControl.map((index) => off.control[index]?.id)).toEqual([id]);
    expect(found.adjusted.pull).toBeNull();
    expect(pulledOf(found)).toEqual([]);
  });

  it('makes all stations for review where no other control is left to say how far', () => {
    const [first, second] = off.control.filter(({ id: name }, index) => index === 0 || name === id);
    const two: Network = { ...off, control: [first, second].flatMap((point) => (point === undefined ? [] : [point])) };
    const found = results(two);
    expect(found.adjusted.pull?.without).toBeNull();
    expect(pulledOf(found)).toEqual(found.points.map((point) => point.id));
    expect(pullSentence(found)).toMatch(/no other control is left/u);
  });
});
