import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { deservedDecimals } from '../../../core/numeric/text/deserved-decimals.js';
import { HORIZONTAL_95, VERTICAL_95 } from '../../../core/observation/uncertainty/confidence-factors.js';

/** Of a degree along a meridian, metres: one more or less of its digits is all that hangs on it. */
const METRES_A_DEGREE = 111_000;

const PLAN = /^(?:easting|northing|westing|southing)_m$/u;
const ANGLES = /^(?:latitude|longitude)_deg$/u;
const HEIGHTS = /^(?:orthometric|ellipsoidal)_height_m$/u;
const PLAN_FIGURES = /^(?:circle_95|sigma_east|sigma_north|ellipse_major_95|ellipse_minor_95)_m$/u;
const HEIGHT_FIGURES = /^(?:vertical_95|sigma_up)_m$/u;

/** Columns that say how uncertain a row is: one of each list is enough. */
export const UNCERTAINTY_COLUMNS = {
  plan: ['circle_95_m', 'sigma_east_m', 'sigma_north_m'],
  height: ['vertical_95_m', 'sigma_up_m'],
} as const;

/**
 * Decimals that the cells of a row deserve: so many that the last is not below a tenth of the row's 95 % uncertainty, in plan and in
 * height.
 *
 * Given: the cell of the row under a column's name, as text, null where there is none. Returned: decimals of the column of a name, null where
 * it is no coordinate and no figure of uncertainty, or the row does not say how uncertain it is.
 */
export function peopleDecimals(cellOf: (name: string) => string | null): (name: string) => number | null {
  // No text is no number.
  const value = (name: string): number | null => parseDecimal(cellOf(name) ?? '');
  const [east, north, up] = [value('sigma_east_m'), value('sigma_north_m'), value('sigma_up_m')];
  const planM =
    value('circle_95_m') ??
    (east === null || north === null ? null : HORIZONTAL_95 * Math.sqrt((east * east + north * north) / 2));
  const heightM = value('vertical_95_m') ?? (up === null ? null : VERTICAL_95 * up);
  const plan = deservedDecimals(planM);
  const height = deservedDecimals(heightM);
  const angle = deservedDecimals(planM === null ? null : planM / METRES_A_DEGREE);
  return (name) => {
    if (PLAN.test(name) || PLAN_FIGURES.test(name)) return plan;
    if (HEIGHTS.test(name) || HEIGHT_FIGURES.test(name)) return height;
    return ANGLES.test(name) ? angle : null;
  };
}
