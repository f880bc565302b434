import { KNOWN_POINT_COLUMNS } from '../points/point-columns.js';

/**
 * Which figures of trust of the input hold for what is written: `all`, where coordinates were only written another way;
 * `plan`, where heights were changed by a model; `none`, where an operation of its own accuracy moved the points.
 */
export type TrustKept = 'all' | 'plan' | 'none';

/** What stands before the name of a column of an earlier input, of a site or of a plan. */
const ORIGIN = /^(?:input_)*(?:site_|plan_)?/u;
/** Sigmas, ellipses, 95 % figures and verdicts of other tables than that of points. */
const TRUST = /^(?:sigma_|ellipse_|circle_95_|vertical_95_|correlation_|verdict(?:_|$)|reasons$)/u;
/** Those of them that speak of the height, or of it too. */
const TRUST_IN_HEIGHT = /^(?:sigma_(?:up|vertical|height)_|vertical_95_|verdict(?:_|$)|reasons$)/u;

/**
 * Whether a column is a figure of trust that does not hold any more: a column of points says so itself, any other says it by
 * its name. Names are compared without case and outer space.
 */
export function isTrustLost(name: string, kept: TrustKept): boolean {
  if (kept === 'all') return false;
  const bare = name.trim().toLowerCase().replace(ORIGIN, '');
  const known = KNOWN_POINT_COLUMNS.get(bare);
  if (known !== undefined) return known.trust !== undefined && (kept === 'none' || known.trust !== 'plan');
  return (kept === 'plan' ? TRUST_IN_HEIGHT : TRUST).test(bare);
}
