import type { LinkOutage, OutageSide } from '../../records/corrections/link-report.js';

/** Who can do what about it. */
export const SIDE_HELP: Readonly<Record<OutageSide, string>> = {
  base: 'look at power and uplink of the base',
  rover: 'look at the rover’s network there, or at another card',
  none: 'look at the sky there, and at the distance',
  unknown: 'record the stream at the base, which tells the sides apart',
};

/** The longest first; of equally long ones the earlier. */
export function longestFirst(outages: readonly LinkOutage[]): readonly LinkOutage[] {
  return outages.toSorted((a, b) => b.toMs - b.fromMs - (a.toMs - a.fromMs) || a.fromMs - b.fromMs);
}
