import { normalQuantile } from '../../numeric/distributions/normal-quantile.js';
import { studentTQuantile } from '../../numeric/distributions/student-t.js';
import { SITE_DIAGNOSIS_PART, SITE_FACTOR_PART, SITE_LEVEL, SITE_POINT_PART } from '../../quality/decision-levels.js';

/** Chance of a false alarm of each single test of a fit, so that all together keep SITE_LEVEL. */
export interface SiteTestLevels {
  /** Of each variance factor. */
  readonly factor: number;
  /** Of each residual of a fitted point (of both of a place together where no sigma is stated), and of plan and height of each point kept out. */
  readonly point: number;
}

/** How many things scale, shift and tilt are tested for: an odd scale, a wrong base, a tilt. */
const DIAGNOSES = 3;

const DIAGNOSIS_LEVEL = (SITE_LEVEL * SITE_DIAGNOSIS_PART) / DIAGNOSES;

/** What scale, shift and tilt may differ by from what is expected. */
export interface DiagnosisSigmas {
  /** Of a scale, a rotation or a shift, in its sigmas. */
  readonly one: number;
  /** Of a slope in any direction, in the sigmas of one along an axis. */
  readonly slope: number;
}

/**
 * Given: the redundancy that the sigmas were estimated with; null: they are known.
 * Returned: 3.40 and 3.82 where known; of Student's distribution, and of F with two degrees of freedom, where estimated.
 */
export function diagnosisSigmas(redundancy: number | null): DiagnosisSigmas {
  if (redundancy === null)
    return { one: normalQuantile(1 - DIAGNOSIS_LEVEL / 2), slope: Math.sqrt(-2 * Math.log(DIAGNOSIS_LEVEL)) };
  return {
    one: studentTQuantile(1 - DIAGNOSIS_LEVEL / 2, redundancy),
    slope: Math.sqrt(redundancy * Math.expm1((-2 * Math.log(DIAGNOSIS_LEVEL)) / redundancy)),
  };
}

/**
 * The levels of the single tests, by Bonferroni: the parts add up, whether tests correlate or not.
 * Given: how many variance factors are tested, which only stated sigmas let be: where there is none, single points take their part;
 * how many coordinates, pairs of coordinates and differences are tested.
 */
export function siteTestLevels(factors: number, points: number): SiteTestLevels {
  return {
    factor: (SITE_LEVEL * SITE_FACTOR_PART) / Math.max(1, factors),
    point: (SITE_LEVEL * (SITE_POINT_PART + (factors === 0 ? SITE_FACTOR_PART : 0))) / Math.max(1, points),
  };
}
