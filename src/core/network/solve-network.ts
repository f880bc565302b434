import { localFrameAt } from '../ellipsoid/local-frame.js';
import { geocentricToGeodetic } from '../ellipsoid/geocentric.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import { entryAt, present } from '../../records/present.js';
import { adjustBlocks } from './blocks/adjust-blocks.js';
import type { BlockSolution } from './blocks/adjust-blocks.js';
import type { BlockFactor, ExchangedEquations } from './blocks/block-factor.js';
import type { EliminationOrder } from './blocks/elimination-order.js';
import type { Network } from './network.js';
import { networkEquations } from './equations/network-equations.js';
import type { EquationChoice, NetworkEquations } from './equations/network-equations.js';
import type { NetworkStation, StationList } from './stations/network-stations.js';

/** A network solved. */
export interface SolvedNetwork {
  readonly list: StationList;
  readonly built: NetworkEquations;
  readonly solution: BlockSolution;
}

/** The solution; or the name of the station, or of the shared error, that nothing determines. */
export type SolvedOutcome =
  { readonly ok: true; readonly solved: SolvedNetwork } | { readonly ok: false; readonly undetermined: string };

/** Approximate values this far off are improved before the last solution, metres: what is not linear is then below a nanometre. */
const FAR_OFF_M = 0.001;
const MOST_TURNS = 10;

/**
 * Solves a network, again from its own solution where distances, heights and distortions, which are not linear in places, began
 * far off.
 *
 * Given: the network; its stations; what of it is used; a solution of the same with other control, null: there is none. Returned:
 * the solution, its stations at the approximate values of the last turn; or what is not determined.
 */
export function solveNetwork(
  network: Network,
  list: StationList,
  choice: EquationChoice,
  before: SolvedNetwork | null = null,
): SolvedOutcome {
  let stations = list;
  let order: EliminationOrder | null = null;
  const isLinear =
    network.distances.length === 0 &&
    network.levelled.length === 0 &&
    network.shared.every(({ distortion }) => distortion === undefined);
  for (let turn = 1; ; turn += 1) {
    const same = before?.list === stations ? before : null;
    const built = networkEquations(network, stations, choice, same?.built ?? null);
    // Control meets no other unknowns than its own place, but for the geoid's.
    if (built.geoidBlocks === null) order ??= before?.solution.factor.order ?? null;
    const outcome = adjustBlocks(
      built.equations,
      order,
      exchanged(network, built, list, same?.solution.factor ?? null),
    );
    if (!outcome.ok) {
      const { block } = outcome;
      const shared = network.shared[block - list.stations.length];
      return { ok: false, undetermined: list.stations[block]?.id ?? shared?.name ?? 'the geoid' };
    }
    const solved: SolvedNetwork = { list: stations, built, solution: outcome.solution };
    ({ order } = outcome.solution.factor);
    if (isLinear || turn === MOST_TURNS || largestMove(solved) <= FAR_OFF_M) return { ok: true, solved };
    stations = movedStations(network, solved);
  }
}

/** That control may be exchanged for other, so that the factor holds what is left without it; null where it meets the geoid's errors too. */
function exchanged(
  { control }: Network,
  { controlFrom, geoidBlocks }: NetworkEquations,
  { indexOf }: StationList,
  before: BlockFactor | null,
): ExchangedEquations | null {
  if (geoidBlocks !== null) return null;
  return { from: controlFrom, blocks: control.flatMap(({ id }) => indexOf.get(id) ?? []), before };
}

/**
 * Where a station is after the adjustment; null where only its height is known.
 *
 * @example
 * // One place measured twice from a known one, with variances of 1 and 4 mm²: the weighted mean, by hand.
 * const cov = (mm2) => ({ xx: mm2 * 1e-6, xy: 0, xz: 0, yy: mm2 * 1e-6, yz: 0, zz: mm2 * 1e-6 });
 * const ends = { fromId: 'A', toId: 'B', shared: [] };
 * const vector = (xM, mm2) => ({ ...ends, difference: { xM, yM: 0, zM: 0 }, covariance: cov(mm2) });
 * const known = { position: { xM: 6378137, yM: 0, zM: 0 }, orthometricHeightM: null, heightVarianceM2: null };
 * const none = { levelled: [], distances: [], shared: [], geoidHeightM: new Map(), geoidError: null };
 * const control = [{ id: 'A', ...known, held: 'fixed', covariance: null }];
 * const network = { ellipsoid: GRS80, vectors: [vector(100, 1), vector(100.005, 4)], control, ...none };
 * const adjusted = adjustNetwork(network, { datum: 'control', excludesOutliers: false, estimatesVariance: false }).value;
 * adjustedPosition(adjusted.final.solved, 1).xM; // 6378237.0010
 */
export function adjustedPosition({ list, solution }: SolvedNetwork, index: number): GeocentricPoint | null {
  const { place } = entryAt(list.stations, index);
  if (place === null) return null;
  const at = solution.equations.starts[index]!;
  const x = solution.unknowns;
  return { xM: place.position.xM + x[at]!, yM: place.position.yM + x[at + 1]!, zM: place.position.zM + x[at + 2]! };
}

/** The orthometric height of a station of which only heights are known; null for others. */
export function adjustedHeight({ list, solution }: SolvedNetwork, index: number): number | null {
  const { place, heightM } = entryAt(list.stations, index);
  return place === null ? heightM + solution.unknowns[solution.equations.starts[index]!]! : null;
}

function largestMove({ list, solution }: SolvedNetwork): number {
  let largest = 0;
  for (let at = 0; at < solution.equations.starts[list.stations.length]!; at += 1)
    largest = Math.max(largest, Math.abs(solution.unknowns[at]!));
  return largest;
}

function movedStations(network: Network, solved: SolvedNetwork): StationList {
  const { list } = solved;
  return {
    ...list,
    stations: list.stations.map((station, index): NetworkStation => {
      const position = adjustedPosition(solved, index);
      if (position === null)
        return { ...station, heightM: present(adjustedHeight(solved, index), 'the height of a station') };
      const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(position, network.ellipsoid);
      return { ...station, place: { position, frame: localFrameAt(latitudeDeg, longitudeDeg) } };
    }),
  };
}
