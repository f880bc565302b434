import { biasReach } from './bias-reach.js';
import type { TestedNetwork } from './judge-observations.js';

/** How well one station is checked, by what its own observations say. */
export interface StationReliability {
  /** Sum of the redundancies of its observations. */
  readonly redundancy: number;
  /** Of its observations, without sign; null where nothing checks any. */
  readonly largestW: number | null;
  /** The largest bias in one number of an observation that moves it, which the test just finds; null: one is not checked at all. */
  readonly biasM: number | null;
  /** How far such a bias moves it, metres; null: without limit. */
  readonly externalM: number | null;
  /** False: a blunder in one of its observations goes into it, and nothing shows. */
  readonly isChecked: boolean;
}

/** Less than this, where an observation is off by all it can be, does not count as moving a station, metres. */
const MOVED_M = 1e-5;

/** The reliability of each station. */
export function stationReliability({ solved, cofactors, tests, limits }: TestedNetwork): readonly StationReliability[] {
  const { list, solution, built } = solved;
  const { termStarts, termBlocks } = solution.equations;
  const count = list.stations.length;
  const redundancies = new Float64Array(count);
  const largest = new Float64Array(count).fill(NaN);
  const biases = new Float64Array(count);
  const moves = new Float64Array(count);
  const isMoved = new Uint8Array(count);
  const reach = biasReach(solution, cofactors);
  for (let at = 0; at < built.origins.length; at += 1) {
    if (!built.origins.isMeasured(at)) continue;
    const [from, to] = [tests.rowStarts[at]!, tests.rowStarts[at + 1]!];
    const directions = tests.checkedDirections[at]!;
    const noncentrality = directions === 0 ? 1 : limits.noncentrality(directions);
    let redundancy = 0;
    let largestW = NaN;
    let least = Infinity;
    for (let row = from; row < to; row += 1) {
      redundancy += tests.redundancy[row]!;
      least = Math.min(least, tests.detectability[row]!);
      const w = Math.abs(tests.w[row]!);
      if (!(w <= largestW)) largestW = Number.isNaN(w) ? largestW : w;
    }
    const biasM = directions < to - from ? Infinity : Math.sqrt(noncentrality / least);
    for (let term = termStarts[at]!; term < termStarts[at + 1]!; term += 1) {
      const block = termBlocks[term]!;
      if (block >= count) continue;
      redundancies[block]! += redundancy;
      if (!(largestW <= largest[block]!) && !Number.isNaN(largestW)) largest[block] = largestW;
      const move = reach(at, block) * Math.sqrt(noncentrality);
      if (move < MOVED_M) continue;
      biases[block] = isMoved[block] === 1 ? Math.max(biases[block]!, biasM) : biasM;
      isMoved[block] = 1;
      moves[block] = Math.max(moves[block]!, move);
    }
  }
  const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);
  return list.stations.map((_, block) => ({
    redundancy: redundancies[block]!,
    largestW: finite(largest[block]!),
    biasM: finite(biases[block]!),
    externalM: finite(moves[block]!),
    isChecked: moves[block]! < Infinity,
  }));
}
