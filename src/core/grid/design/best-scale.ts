/** What a design makes small: the largest distortion of all points, or the one that 95 of 100 of them keep. */
export type DistortionMeasure = 'largest' | 'p95';

const PART = 0.95;

/** A scale at the origin and the distortion that it reaches. */
export interface BestScale {
  readonly scaleFactor: number;
  /** Largest, or of 95 %, of |k₀ r − 1|. */
  readonly distortion: number;
}

/**
 * The scale factor at the origin that makes distortion least, exactly: with r = k₁ R/(R + h) of each point, k₁ its point scale for
 * a scale of 1 at the origin, δ = k₀ r − 1 is linear in k₀, so that of a set of points the extremes are made equal and opposite,
 * k₀ = 2 / (r_least + r_most). For 95 % that is done with every run of so many points in the order of r.
 *
 * Given: r of the points, one at least, above 0; the measure.
 *
 * @example
 * // Two points that differ by 100 ppm are 50 ppm off each.
 * bestScale([1, 1.0001], 'largest').distortion * 1e6; // 49.998
 */
export function bestScale(ratios: readonly number[], measure: DistortionMeasure): BestScale {
  const sorted = [...ratios].sort((a, b) => a - b);
  const kept = measure === 'largest' ? sorted.length : Math.max(1, Math.ceil(PART * sorted.length));
  let best: BestScale = { scaleFactor: 1, distortion: Infinity };
  for (let at = 0; at + kept <= sorted.length; at += 1) {
    const [least, most] = [sorted[at] as number, sorted[at + kept - 1] as number];
    const distortion = (most - least) / (most + least);
    if (distortion < best.distortion) best = { scaleFactor: 2 / (least + most), distortion };
  }
  return best;
}

/** The measure of what a scale that is stated makes of points. Given: r of each; the scale. Returned: |δ|, largest or of 95 %. */
export function distortionOf(ratios: readonly number[], scaleFactor: number, measure: DistortionMeasure): number {
  const sizes = ratios.map((ratio) => Math.abs(scaleFactor * ratio - 1)).sort((a, b) => a - b);
  const at = measure === 'largest' ? sizes.length - 1 : Math.max(0, Math.ceil(PART * sizes.length) - 1);
  return sizes[at] as number;
}
