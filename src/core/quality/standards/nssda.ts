/** The standard's own multipliers, as it prints them. */
export const NSSDA_CIRCULAR = 2.4477;
export const NSSDA_VERTICAL = 1.96;
/** Fewest independent check points for a statement. */
export const NSSDA_POINTS = 20;
/** Smallest ratio of the two horizontal RMSEs for which the standard gives a formula. */
export const NSSDA_LEAST_RATIO = 0.6;

/** A 95 % accuracy value, or why none can be stated. */
export type NssdaStatement =
  | { readonly accuracy95M: number; readonly method: 'circular' | 'elliptical' | 'vertical' }
  | { readonly accuracy95M: null; readonly reason: 'too-few-points' | 'unequal-axes'; readonly pointsNeeded: number };

/**
 * Horizontal accuracy at 95 % by the standard: 2.4477·½(RMSE_x + RMSE_y). For equal axes that is
 * 1.7308·RMSE_r; for a ratio of the smaller to the larger from 0.6 to 1 it is the standard's
 * approximation; below 0.6 the standard gives none and nothing is stated.
 *
 * Given: RMSE of each axis, metres; number of independent check points. Returned: the statement.
 * Note: the standard assumes normal errors from which systematic error has been removed.
 * Reference: FGDC-NSSDA, appendix 3-A, cases 1 and 2; section 3.2.2 for the number of points.
 */
export function nssdaHorizontal(rmseXM: number, rmseYM: number, count: number): NssdaStatement {
  if (count < NSSDA_POINTS) return { accuracy95M: null, reason: 'too-few-points', pointsNeeded: NSSDA_POINTS - count };
  const larger = Math.max(rmseXM, rmseYM);
  const smaller = Math.min(rmseXM, rmseYM);
  if (smaller < NSSDA_LEAST_RATIO * larger) return { accuracy95M: null, reason: 'unequal-axes', pointsNeeded: 0 };
  return {
    accuracy95M: NSSDA_CIRCULAR * 0.5 * (rmseXM + rmseYM),
    method: smaller === larger ? 'circular' : 'elliptical',
  };
}

/**
 * Vertical accuracy at 95 % by the standard: 1.9600·RMSE_z.
 *
 * Given: RMSE of heights, metres; number of check points. Returned: the statement.
 * Reference: FGDC-NSSDA, appendix 3-A.
 */
export function nssdaVertical(rmseZM: number, count: number): NssdaStatement {
  if (count < NSSDA_POINTS) return { accuracy95M: null, reason: 'too-few-points', pointsNeeded: NSSDA_POINTS - count };
  return { accuracy95M: NSSDA_VERTICAL * rmseZM, method: 'vertical' };
}
