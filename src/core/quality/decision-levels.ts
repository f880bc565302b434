/**
 * Levels of the decision rules, and what each holds over: one place, so that a reader sees them beside each other.
 * How often each rule is wrong when measured stands in docs/methods.
 */

/** Chance that a clean run has any difference beyond its stated uncertainty: over all rows of one kind of check, plan and height. */
export const CHECK_NOISE_LEVEL = 0.01;

/** Chance that a day as noisy as the planning model says is called noisier: over all classes of baseline. */
export const NOISY_DAY_LEVEL = 0.01;
