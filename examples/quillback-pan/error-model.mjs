// The errors of the invented day: the planning model of docs/methods/uncertainty.md for normal
// conditions, written down a second time. A test holds the two together.

/** One sigma of the slow error of one epoch, metres, and how long it stays alike, seconds. */
export function slowErrorAt(baselineM, heightDifferenceM) {
  const zenithM = Math.sqrt((0.25e-6 * baselineM) ** 2 + (0.012e-3 * heightDifferenceM) ** 2);
  const between = (short, long) => short + (long - short) * Math.min(1, Math.max(0, (baselineM - 10000) / 10000));
  return {
    horizontal: {
      constantM: 0.006,
      growingM: baselineM * Math.sqrt(0.4e-6 ** 2 + 0.1e-6 ** 2 + 0.03e-6 ** 2),
      correlationS: between(115, 600),
    },
    vertical: {
      constantM: 0.012,
      growingM: Math.sqrt((0.8e-6 * baselineM) ** 2 + (2.7 * zenithM) ** 2 + (0.05e-6 * baselineM) ** 2),
      correlationS: between(300, 2200),
    },
  };
}

/** One sigma of the fast noise of one epoch, which is also what the receiver reports: it sees nothing of the rest. */
export function fastNoiseAt(baselineM) {
  return { horizontalM: 0.003 + 0.05e-6 * baselineM, verticalM: 0.006 + 0.08e-6 * baselineM };
}

/** What the session states of base, geoid and pole, one sigma. */
export const STATED = {
  baseHorizontalM: 0.008,
  baseVerticalM: 0.012,
  geoidM: 0.02,
  poleM: 0.001,
  plumbDeg: 0.1,
  tiltDeg: 0.3,
  tiltAzimuthDeg: 1,
  phaseCentreOffsetM: 0.0712,
  controlHorizontalM: 0.005,
  controlVerticalM: 0.008,
};
