/** Settings of telescopic and screwed poles differ by multiples of this, metres. Common practice, no published source. */
const STEP_M = 0.1;
const LARGEST_STEP_M = 1;
/** With a larger sigma every offset is near some step. */
const LARGEST_SIGMA_M = 0.025;

/**
 * The step between two pole lengths that a height offset agrees with (95 %): first those between lengths that were
 * logged, then whole tenths of a metre.
 *
 * Given: offset and its sigma, metres; lengths logged. Returned: the step with the offset's sign, metres; null where none
 * agrees, or where the sigma is too large to tell steps apart.
 * Reference: common practice, no published source.
 */
export function usualPoleStep(offsetM: number, sigmaM: number, loggedM: readonly number[]): number | null {
  if (!(sigmaM <= LARGEST_SIGMA_M) || Math.abs(offsetM) > LARGEST_STEP_M) return null;
  const size = Math.abs(offsetM);
  const agrees = (step: number): boolean => Math.abs(step - size) <= 1.96 * sigmaM;
  const lengths = [...new Set(loggedM)];
  const logged = lengths.flatMap((a) => lengths.flatMap((b) => (a > b && agrees(a - b) ? [a - b] : [])));
  const tenths = Math.round(size / STEP_M);
  const usual = tenths > 0 && agrees(tenths / 10) ? tenths / 10 : null;
  const nearest =
    logged.reduce<number | null>(
      (best, step) => (best === null || Math.abs(step - size) < Math.abs(best - size) ? step : best),
      null,
    ) ?? usual;
  return nearest === null ? null : Math.sign(offsetM) * nearest;
}
