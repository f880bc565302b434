import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import type { SkyLimits, SkySite, SkyTimes } from '../../records/sky/site-sky.js';

/** Everything a sky is planned from. */
export interface SkySetup {
  /** That positions lie on. A datum some hundred metres off turns directions by less than 0.003°. */
  readonly ellipsoid: Ellipsoid;
  readonly sites: readonly SkySite[];
  /** Null: the sky of each site alone. */
  readonly base: SkySite | null;
  readonly elements: readonly OrbitElements[];
  readonly times: SkyTimes;
  readonly elevationMaskDeg: number;
  readonly limits: SkyLimits;
}

/** Most instants of one plan. */
export const MOST_INSTANTS = 90_000;

/** The instants one by one. */
export function instantsOf({ fromMs, toMs, intervalS }: SkyTimes): readonly number[] {
  const stepMs = 1000 * intervalS;
  return Array.from({ length: Math.ceil((toMs - fromMs) / stepMs) }, (_, index) => fromMs + index * stepMs);
}
