import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { GridUnit } from '../../grid/systems/grid-units.js';
import type { ProjFlag, ProjNumber } from '../projection-methods.js';

/** How the axes of a grid run: east and north; west and south; west and north; the same with the other listed first. */
export type ProjAxes = 'enu' | 'neu' | 'wsu' | 'swu' | 'wnu' | 'nwu';

/** A PROJ definition string, read and checked by `parseProjString`. */
export interface ProjParameters {
  /** `tmerc`, …; `longlat` for a geographic and `geocent` for a geocentric system. */
  readonly projection: string;
  readonly ellipsoid: Ellipsoid;
  /** Degrees and metres, as written; `k` stands under `k_0`. */
  readonly numbers: Readonly<Partial<Record<ProjNumber, number>>>;
  readonly flags: readonly ProjFlag[];
  readonly axes: ProjAxes;
  readonly unit: GridUnit;
  /** As written; null for Greenwich. */
  readonly primeMeridian: string | null;
  /** The figures of `+towgs84`; information only. */
  readonly datumShift: readonly number[] | null;
}
