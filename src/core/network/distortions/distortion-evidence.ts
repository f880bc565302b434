import { entryAt, present } from '../../../records/present.js';
import { MOST_ROWS } from '../blocks/adjust-blocks.js';
import { rowsOf } from '../blocks/block-equations.js';
import { solveFactored } from '../blocks/factor-solve.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { SolvedNetwork } from '../solve-network.js';
import { distortionOf } from './distortion.js';
import type { DistortionCandidate } from './distortion.js';

/** What an adjustment without a distortion says of it. */
export interface DistortionEvidence {
  /** What it would be found to be, in millionths, and one sigma of that. */
  readonly valuePpm: number;
  readonly sigmaPpm: number;
  /** What vᵀPv would lose: χ² with one degree of freedom where there is no distortion. */
  readonly test: number;
}

/** A distortion of which less than this share shows beside the other unknowns is taken up by them whole: what is left is rounding. */
const LEAST_SHARE = 1e-9;

/**
 * What a solved network says of a distortion that is not among its unknowns, as if it were added: a = its column of the design,
 * x = −aᵀPv / aᵀPQ_vPa with sigma² = 1 / aᵀPQ_vPa. One more solution with the same factor, and no new adjustment.
 *
 * Given: the network, solved; the distortion; the ellipsoid of its heights. Returned: the evidence; null where other unknowns (places, a shift of the base)
 * take it up whole. Reference: BAARDA-1968, of an error in many observations at once.
 */
export function distortionEvidence(
  { list, built, solution }: SolvedNetwork,
  { kind, stationId, members }: DistortionCandidate,
  ellipsoid: Ellipsoid,
): DistortionEvidence | null {
  const { equations, factor, residuals } = solution;
  const { starts, sizes, rowStarts, weightStarts, weights, termStarts, termBlocks, termFactors } = equations;
  const { termMatrices, matrices } = equations;
  const { frame } = placeAt(list, present(list.indexOf.get(stationId), 'the station of a distortion'));
  const right = new Float64Array(entryAt(starts, sizes.length));
  const force = new Float64Array(MOST_ROWS);
  let [own, met] = [0, 0];
  for (const index of members) {
    const at = built.origins.equationOf('vector', index);
    if (at < 0) continue;
    const m = rowsOf(equations, at);
    const [from, to] = [list.ends.vectors[2 * index]!, list.ends.vectors[2 * index + 1]!];
    const [start, end] = [placeAt(list, from), placeAt(list, to)];
    const column = distortionOf(kind, start, end, frame, ellipsoid);
    const [row, weightAt] = [rowStarts[at]!, weightStarts[at]!];
    for (let r = 0; r < m; r += 1) {
      let sum = 0;
      for (let s = 0; s < m; s += 1) sum += weights[weightAt + r * m + s]! * column[s]!;
      force[r] = sum;
      own += sum * column[r]!;
      met += sum * residuals[row + r]!;
    }
    for (let term = termStarts[at]!; term < termStarts[at + 1]!; term += 1) {
      const block = termBlocks[term]!;
      const [size, first, matrixAt] = [sizes[block]!, starts[block]!, termMatrices[term]!];
      for (let c = 0; c < size; c += 1)
        if (matrixAt < 0) right[first + c]! += termFactors[term]! * force[c]!;
        else for (let r = 0; r < m; r += 1) right[first + c]! += matrices[matrixAt + r * size + c]! * force[r]!;
    }
  }
  const taken = solveFactored(factor, right);
  let shown = own;
  for (let at = 0; at < right.length; at += 1) shown -= right[at]! * taken[at]!;
  if (!(shown > LEAST_SHARE * own)) return null;
  return { valuePpm: -met / shown, sigmaPpm: 1 / Math.sqrt(shown), test: (met * met) / shown };
}

function placeAt(
  { stations }: SolvedNetwork['list'],
  index: number,
): NonNullable<SolvedNetwork['list']['stations'][number]['place']> {
  return present(entryAt(stations, index).place, 'the place of a station');
}
