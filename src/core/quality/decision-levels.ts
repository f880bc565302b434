/**
 * Levels of the decision rules, and what each holds over: one place, so that a reader sees them beside each other.
 * How often each rule is wrong when measured stands in docs/methods.
 */

/** Chance that a clean run has any difference beyond its stated uncertainty: over all rows of one kind of check, plan and height. */
export const CHECK_NOISE_LEVEL = 0.01;
/** Chance that a clean site gets a no: over every test of a fit together, shared out by the three parts below. */
export const SITE_LEVEL = 0.01;
/** Part of SITE_LEVEL for the variance factors, of plan and of height. */
export const SITE_FACTOR_PART = 0.4;
/** Part of SITE_LEVEL for single control points: residuals of those fitted, differences of those kept out. */
export const SITE_POINT_PART = 0.4;
/** Part of SITE_LEVEL for what scale, shift and tilt point to. */
export const SITE_DIAGNOSIS_PART = 0.2;
/** Chance that heights a plane does fit are called curved, which makes a site for review. */
export const SITE_CURVATURE_LEVEL = 0.01;
/** Chance that a richer trend of heights passes its F-test where the simpler is right: of each trend that is tried. */
export const SURFACE_TREND_LEVEL = 0.05;
/** Chance that a clean run has any levelled line beyond the sigma of its transfer: over all lines. */
export const HEIGHT_TRANSFER_LEVEL = 0.01;

/** Chance that a day as noisy as the planning model says is called noisier: over the parts of the model that may be. */
export const NOISY_DAY_LEVEL = 0.01;
/** Chance that points as noisy as the model say so without the sixth that says most for it. */
export const NOISE_OF_ALL_LEVEL = 0.01;
/** Chance that a point no noisier than the others is left out of the noise of the day: over its points. */
export const BLUNDER_IN_DAY_LEVEL = 0.001;
/** All of the model is noisier, and not what grows with the baseline, where that takes this much more off −2 ln likelihood: odds of ten. */
export const NOISE_PART_LEAD: number = 2 * Math.LN10;
/** Chance that a clean occupation loses any epoch to the screen: over all its epochs and axes. */
export const EPOCH_SCREEN_LEVEL = 0.005;
/** Chance that an occupation of two clean epochs is said to disagree: over three axes. */
export const TWO_EPOCHS_LEVEL = 0.005;
/** Chance that the scatter of a clean occupation is said to be too large: over three axes. */
export const SCATTER_LEVEL = 0.001;
/** Chance that a standing antenna is said to move: half in plan, half in height. */
export const ANTENNA_MOVING_LEVEL = 0.001;
/** Chance that a clean occupation is said to drift: over three axes. */
export const DRIFT_LEVEL = 0.002;
/** Chance that a clean occupation is said to hold a step: over three axes and every place it may be at. */
export const STEP_LEVEL = 0.002;
/**
 * Times the scatter expected of epochs, by the planning model and the sigmas they report, that clean ones may reach: the
 * levels of the tests of an occupation hold up to it. An assumption.
 */
export const SCATTER_ALLOWANCE = 1.5;
/**
 * The correlation time of a planning model is believed to within this factor: trends and scatter are judged by the
 * shortest time so believed, which leaves them most room. An assumption.
 */
export const CORRELATION_ALLOWANCE = 3;
/** Chance that any repeated point of a run is said to disagree, where all repeats are true; shared evenly over its points. */
export const REPEATS_RUN_LEVEL = 0.01;
/** Chance that any point of a comparison of two runs is said to have moved, where none has: over all points, plan and height. */
export const COMPARISON_LEVEL = 0.01;
/**
 * Share of a point's own 95 % by which it may move between two reductions of the same observations: no chance is in that, and a tenth of
 * the uncertainty is what a list for people is rounded to. An assumption.
 */
export const SAME_OBSERVATIONS_SHARE = 0.1;
/** The odd occupation of a point is named where leaving it out takes this much more off χ² than leaving out any other: odds of ten. */
export const ODD_STAND_LEAD: number = 2 * Math.LN10;
/** Occupations too close in time are worth a review where joining them makes neither plan nor height better by this share. */
export const REPEAT_LEAST_GAIN = 0.05;
/** Chance that the search for causes names any cause, over all causes and forms of one day, on a day of stated noise alone. */
export const FALSE_CAUSE_LEVEL = 0.005;
/** Chance that the search names a mistake in one occupation, and not chance beside it, over the occupations of a day whose noise has long tails. */
export const LONG_TAIL_LEVEL = 0.005;
/** What a cause leaves still agrees with the noise: χ² of one day below its quantile of 1 minus this. */
export const LEFT_OVER_LEVEL = 0.001;
/** Where what a cause leaves is above its quantile of 1 minus this, its gain is judged by the noise of what is left (F), not by the stated. */
export const REST_LOUD_LEVEL = 0.02;
/** The residuals of one day together do not agree with their noise: χ² above its quantile of 1 minus this. */
export const DISTURBED_LEVEL = 0.01;
/** Chance that a register of control where nothing moves says that a mark or base has: over all marks, bases, axes and days. */
export const MOVED_LEVEL = 0.01;
/** Of marks and bases the one that moved is named where its step takes this much more off χ² than that of any other: odds of ten. */
export const MOVED_LEAD: number = 2 * Math.LN10;
