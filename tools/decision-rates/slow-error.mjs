// A slow error as a sum of sinusoids. Frequencies are drawn from the Cauchy distribution, the spectrum whose autocorrelation is
// exp(-|t|/τ); phases are uniform. No recursion from one epoch to the next and no covariance matrix is involved.

const WAVES = 40;

/**
 * One realisation with unit variance and unit correlation time.
 * Frequencies are taken one from each of WAVES equal shares of probability, so that every realisation has the spectrum.
 */
export function slowError(random) {
  const omega = new Float64Array(WAVES);
  const phase = new Float64Array(WAVES);
  for (let k = 0; k < WAVES; k += 1) {
    omega[k] = Math.tan((Math.PI / 2) * ((k + random.next()) / WAVES));
    phase[k] = 2 * Math.PI * random.next();
  }
  const amplitude = Math.sqrt(2 / WAVES);
  return {
    /** Values at `count` times from `startS` by `stepS`, with correlation time `tauS`, added to `out` times `factor`. */
    addTo(out, factor, tauS, startS, stepS) {
      const scale = amplitude * factor;
      for (let k = 0; k < WAVES; k += 1) {
        const step = (omega[k] * stepS) / tauS;
        const first = (omega[k] * startS) / tauS + phase[k];
        const twice = 2 * Math.cos(step);
        let before = Math.cos(first - step);
        let now = Math.cos(first);
        for (let i = 0; i < out.length; i += 1) {
          out[i] += scale * now;
          const next = twice * now - before;
          before = now;
          now = next;
        }
      }
    },
  };
}
