/**
 * Which figures of trust of the input hold for what is written: `all`, where coordinates were only written another way;
 * `plan`, where heights were changed by a model; `none`, where an operation of its own accuracy moved the points.
 */
export type TrustKept = 'all' | 'plan' | 'none';

/** Sigmas, ellipses, 95 % figures and verdicts, also those of a site, a plan or an earlier input. */
const TRUST =
  /^(?:input_)*(?:site_|plan_)?(?:sigma_|ellipse_|circle_95_|vertical_95_|correlation_|verdict(?:_|$)|reasons$)/u;
/** Those of them that speak of the height, or of it too. */
const TRUST_IN_HEIGHT =
  /^(?:input_)*(?:site_|plan_)?(?:sigma_(?:up|vertical|height)_|vertical_95_|verdict(?:_|$)|reasons$)/u;

/** Whether a column is a figure of trust that does not hold any more. Names are compared without case and outer space. */
export function isTrustLost(name: string, kept: TrustKept): boolean {
  if (kept === 'all') return false;
  return (kept === 'plan' ? TRUST_IN_HEIGHT : TRUST).test(name.trim().toLowerCase());
}
