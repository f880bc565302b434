import { describe, expect, it } from 'vitest';
import { blockCofactors } from '../../../src/core/network/blocks/block-cofactors.js';
import { blockTests } from '../../../src/core/network/evidence/block-tests.js';
import type { ControlPoint, Network } from '../../../src/core/network/network.js';
import { networkStations } from '../../../src/core/network/stations/network-stations.js';
import type { EquationChoice } from '../../../src/core/network/equations/network-equations.js';
import { solveNetwork } from '../../../src/core/network/solve-network.js';
import type { SolvedNetwork } from '../../../src/core/network/solve-network.js';
import { madeNetwork } from './made-network.js';

/** A made network whose control are the bases and some of the points that they see. */
function controlled(points: number, seed: number): Network {
  const { network } = madeNetwork(points, seed);
  const bases = new Map(network.control.map((point) => [point.id, point]));
  const variance = { xx: 4e-6, xy: 1e-6, xz: 0, yy: 5e-6, yz: -1e-6, zz: 9e-6 };
  const seen = network.vectors.flatMap(({ fromId, toId, difference }, index): readonly ControlPoint[] => {
    const base = bases.get(fromId);
    if (index % 7 !== 0 || base?.position == null) return [];
    const { xM, yM, zM } = base.position;
    const position = { xM: xM + difference.xM, yM: yM + difference.yM, zM: zM + difference.zM };
    return [{ ...base, id: toId, position, held: index % 2 === 0 ? 'weighted' : 'plan', covariance: variance }];
  });
  const control = new Map([...network.control, ...seen].map((point) => [point.id, point]));
  return { ...network, control: [...control.values()] };
}

function solved(network: Network, control: EquationChoice['control'], before: SolvedNetwork | null): SolvedNetwork {
  const list = before?.list ?? networkStations(network, true);
  if ('loose' in list) throw new Error('loose');
  const outcome = solveNetwork(network, list, { control, leftOut: { has: () => false } }, before);
  if (!outcome.ok) throw new Error(outcome.undetermined);
  return outcome.solved;
}

/** Every number of a solution. */
function numbersOf({ solution }: SolvedNetwork): readonly number[] {
  const cofactors = blockCofactors(solution);
  const tests = blockTests(solution, cofactors);
  const q = new Float64Array(9);
  const found = [...solution.unknowns, ...solution.residuals, ...tests.redundancy, ...tests.blockTest, ...tests.w];
  for (let block = 0; block < solution.equations.sizes.length; block += 1) {
    cofactors.ofBlocks(block, block, q);
    found.push(...q);
  }
  return found;
}

describe('control exchanged for other control', () => {
  for (const [points, seed] of [
    [30, 1],
    [60, 2],
    [200, 3],
  ] as const)
    it(`gives, digit for digit, what a factor formed anew gives (${String(points)} points)`, () => {
      const network = controlled(points, seed);
      const all = network.control.map((point, index) => ({ point, index }));
      const free = solved(network, all.slice(0, 1), null);
      const before = numbersOf(free);
      for (const control of [all, all.slice(0, 4), all.slice(4), all.slice(-3)])
        expect(numbersOf(solved(network, control, free))).toEqual(numbersOf(solved(network, control, null)));
      expect(numbersOf(free), 'what is taken over stays as it is').toEqual(before);
    });

  it('differs from the solution it begins with', () => {
    const network = controlled(60, 2);
    const all = network.control.map((point, index) => ({ point, index }));
    const free = solved(network, all.slice(0, 1), null);
    expect(numbersOf(solved(network, all, free))).not.toEqual(numbersOf(free));
  });
});
