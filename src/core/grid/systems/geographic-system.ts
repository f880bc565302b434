import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { AreaOfUse } from '../../projection/definition/system-definition.js';

/**
 * A geographic system: what latitudes, longitudes and ellipsoidal heights belong to. Longitudes
 * count from Greenwich. Its two-dimensional, three-dimensional and geocentric registry entries
 * describe the same thing here (see `systemsAgree`).
 */
export interface GeographicSystem {
  /** Such as `EPSG:4148`; null when the definition does not name it. */
  readonly code: string | null;
  readonly name: string;
  readonly ellipsoid: Ellipsoid;
  /** Longitude of the system's prime meridian from Greenwich; always 0, others are refused. */
  readonly primeMeridianDeg: number;
  /**
   * Shift to WGS 84 written beside the definition, in the order and convention of `+towgs84`
   * (metres, arc-seconds of the position vector rotation, parts per million). Information only:
   * nothing in core/grid applies it.
   */
  readonly datumShift: readonly number[] | null;
  readonly areaOfUse: AreaOfUse | null;
}
