import { geocentricToLocal } from '../../ellipsoid/local-frame.js';
import { entryAt } from '../../../records/present.js';
import type { ControlTest } from './control-tests.js';
import type { ControlLimit } from './judge-control.js';
import type { EquationChoice } from '../equations/network-equations.js';
import type { Network } from '../network.js';
import { adjustedHeight, adjustedPosition, solveNetwork } from '../solve-network.js';
import type { SolvedNetwork } from '../solve-network.js';

/** Control that its test refuses and that holds the coordinates all the same: what it does to them. */
export interface ControlPull {
  /** Places of that control in the network's list. */
  readonly control: readonly number[];
  /** The network held by the rest; null: too little is left to hold it. */
  readonly without: SolvedNetwork | null;
}

/** Places of control that holds the coordinates and fails its test, in the order of `held`. */
export function foulHeld(
  points: readonly ControlTest[],
  held: readonly number[],
  limit: ControlLimit,
): readonly number[] {
  const foul = new Set(
    points.flatMap(({ index, test, checkedDirections }) => {
      const most = checkedDirections > 0 ? limit(checkedDirections) : null;
      return most !== null && test > most ? [index] : [];
    }),
  );
  return held.filter((index) => foul.has(index));
}

/**
 * What control that its test refuses does to the coordinates that it holds: the network solved once more, held by the rest.
 *
 * Given: the solution that gives the coordinates; the places of that control; what holds them, and what is left out. Returned: null where
 * no such control is there.
 */
export function controlPull(
  network: Network,
  { list }: SolvedNetwork,
  foul: readonly number[],
  { control, leftOut }: EquationChoice,
): ControlPull | null {
  if (foul.length === 0) return null;
  const rest = control.filter(({ index }) => !foul.includes(index));
  const outcome = rest.length === 0 ? null : solveNetwork(network, list, { control: rest, leftOut });
  return { control: foul, without: outcome?.ok === true ? outcome.solved : null };
}

/** How far a station was pulled: in plan and upwards, metres; null in plan where only its height is known. */
export interface StationPull {
  readonly planM: number | null;
  readonly upM: number;
}

/** From where the rest of the control has the station to where it stands. */
export function stationPull(final: SolvedNetwork, without: SolvedNetwork, station: number): StationPull {
  const [to, from] = [adjustedPosition(final, station), adjustedPosition(without, station)];
  const { place } = entryAt(final.list.stations, station);
  if (to === null || from === null || place === null) {
    const heights = [final, without].map((solved) => adjustedHeight(solved, station) ?? NaN);
    return { planM: null, upM: entryAt(heights, 0) - entryAt(heights, 1) };
  }
  const moved = { xM: to.xM - from.xM, yM: to.yM - from.yM, zM: to.zM - from.zM };
  const { eastM, northM, upM } = geocentricToLocal(place.frame, moved);
  return { planM: Math.hypot(eastM, northM), upM };
}
