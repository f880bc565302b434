import { entryAt, present } from '../../../records/present.js';
import type { ControlPoint, Network } from '../network.js';
import type { EquationChoice } from '../equations/network-equations.js';
import type { StationList } from './network-stations.js';
import { adjustedPosition } from '../solve-network.js';
import type { SolvedNetwork } from '../solve-network.js';

/** Of each part the control point that most observations meet, of equals the first by name; held with its place and height. */
export function anchorsOf(network: Network, list: StationList, met: readonly number[]): readonly number[] {
  const counts = new Int32Array(list.stations.length);
  for (const ends of [list.ends.vectors, list.ends.levelled, list.ends.distances])
    for (const station of ends) counts[station]! += 1;
  const best = new Map<number, number>();
  for (const index of met) {
    const { id, position } = entryAt(network.control, index);
    const station = stationOf(list, id);
    const { part, place } = entryAt(list.stations, station);
    if (part === null || (place !== null && position === null)) continue;
    const other = best.get(part);
    if (other !== undefined) {
      const otherId = entryAt(network.control, other).id;
      const gain = counts[station]! - counts[stationOf(list, otherId)]!;
      if (gain < 0 || (gain === 0 && id >= otherId)) continue;
    }
    best.set(part, index);
  }
  return [...best].sort(([a], [b]) => a - b).map(([, index]) => index);
}

function stationOf({ indexOf }: StationList, id: string): number {
  return present(indexOf.get(id), 'the station of a control point');
}

/** A control point as a datum: without error, and, where it has a place, with the height of that place. */
export function heldFast(point: ControlPoint): ControlPoint {
  const orthometricHeightM = point.position === null ? point.orthometricHeightM : null;
  return { ...point, held: 'fixed', covariance: null, heightVarianceM2: null, orthometricHeightM };
}

/** The datum moved, part by part, to where the network's own places of its control have the mean of what is stated. */
export function meanHeld(
  network: Network,
  free: SolvedNetwork,
  anchored: EquationChoice['control'],
  met: readonly number[],
): EquationChoice['control'] {
  const { stations } = free.list;
  return anchored.map(({ point, index }) => {
    if (point.position === null) return { point, index };
    const { part } = entryAt(stations, stationOf(free.list, point.id));
    const own = met.filter((other) => {
      const { id, position } = entryAt(network.control, other);
      return position !== null && entryAt(stations, stationOf(free.list, id)).part === part;
    });
    const shift = { xM: 0, yM: 0, zM: 0 };
    for (const other of own) {
      const { id, position } = entryAt(network.control, other);
      const stated = present(position, 'the place of a control point');
      const computed = present(adjustedPosition(free, stationOf(free.list, id)), 'the place of a station');
      shift.xM += (stated.xM - computed.xM) / own.length;
      shift.yM += (stated.yM - computed.yM) / own.length;
      shift.zM += (stated.zM - computed.zM) / own.length;
    }
    const { xM, yM, zM } = point.position;
    return { point: { ...point, position: { xM: xM + shift.xM, yM: yM + shift.yM, zM: zM + shift.zM } }, index };
  });
}
