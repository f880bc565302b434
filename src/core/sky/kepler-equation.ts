const MOST_TURNS = 60;

/**
 * The eccentric anomaly E of Kepler's equation E − e sin E = M.
 *
 * Given: mean anomaly, radians, any; eccentricity, 0 to below 1. Returned: eccentric anomaly, radians, in the turn of M.
 * Method: Newton's steps from M + 0.85 e sgn(sin M), which lies beyond the root and so is never left (Danby), held between
 * M − e and M + e; until a step is lost in the last digits. Reference: MEEUS-1998, chapter 30.
 */
export function eccentricAnomaly(meanAnomalyRad: number, eccentricity: number): number {
  let low = meanAnomalyRad - eccentricity;
  let high = meanAnomalyRad + eccentricity;
  let anomaly = meanAnomalyRad + 0.85 * eccentricity * Math.sign(Math.sin(meanAnomalyRad));
  for (let turn = 0; turn < MOST_TURNS; turn += 1) {
    const excess = anomaly - eccentricity * Math.sin(anomaly) - meanAnomalyRad;
    if (excess > 0) high = anomaly;
    else low = anomaly;
    const step = excess / (1 - eccentricity * Math.cos(anomaly));
    const next = anomaly - step;
    const held = next >= low && next <= high ? next : (low + high) / 2;
    if (Math.abs(held - anomaly) <= 1e-15 * Math.max(1, Math.abs(anomaly))) return held;
    anomaly = held;
  }
  return anomaly;
}
