import { normalQuantile } from '../numeric/normal-quantile.js';
import { SITE_DIAGNOSIS_PART, SITE_FACTOR_PART, SITE_LEVEL, SITE_POINT_PART } from '../quality/decision-levels.js';

/** Chance of a false alarm of each single test of a fit, so that all together keep SITE_LEVEL. */
export interface SiteTestLevels {
  /** Of each variance factor. */
  readonly factor: number;
  /** Of each residual of a fitted point, and of plan and height of each point kept out. */
  readonly point: number;
}

/** How many things scale, shift and tilt are tested for: an odd scale, a wrong base, a tilt. */
const DIAGNOSES = 3;

/** Scale, shift and tilt differ from what is expected beyond this many of their sigmas. */
export const DIAGNOSIS_SIGMAS: number = normalQuantile(1 - (SITE_LEVEL * SITE_DIAGNOSIS_PART) / (2 * DIAGNOSES));

/**
 * The levels of the single tests, by Bonferroni: the parts add up, whether tests correlate or not.
 * Given: how many variance factors and how many coordinates and differences are tested.
 */
export function siteTestLevels(factors: number, points: number): SiteTestLevels {
  return { factor: (SITE_LEVEL * SITE_FACTOR_PART) / Math.max(1, factors), point: (SITE_LEVEL * SITE_POINT_PART) / Math.max(1, points) };
}
