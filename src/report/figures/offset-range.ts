import type { ReportEpoch } from '../../records/reports/reduction-report.js';
import type { LocalVector } from '../../records/points/point.js';

/** How far an occupation's figures reach from their middle, and in which unit. */
export interface OffsetRange {
  readonly halfM: number;
  readonly unit: 'mm' | 'm';
  readonly perMetre: number;
}

const LEAST_M = 0.004;
/** Refused epochs may widen a figure so much; those farther out are drawn at its edge. */
const REFUSED_WIDEN = 3;

/** Of the figure in plan. */
export function planRange(epochs: readonly ReportEpoch[], circleM: number | null): OffsetRange {
  return offsetRange(epochs, ({ eastM, northM }) => Math.max(Math.abs(eastM), Math.abs(northM)), circleM);
}

/** Holds every used epoch, refused ones as far as they leave the used ones legible, and a circle likewise. */
export function offsetRange(
  epochs: readonly ReportEpoch[],
  sizeOf: (offset: LocalVector) => number,
  circleM: number | null,
): OffsetRange {
  let used = 0;
  let all = 0;
  for (const epoch of epochs) {
    const size = sizeOf(epoch.offset);
    all = Math.max(all, size);
    if (epoch.used) used = Math.max(used, size);
  }
  const core = Math.max(LEAST_M, used > 0 ? used : all);
  // Without a circle there is none to make room for.
  const halfM = 1.1 * Math.max(core, Math.min(Math.max(all, 1.02 * (circleM ?? 0)), REFUSED_WIDEN * core));
  return halfM >= 1 ? { halfM, unit: 'm', perMetre: 1 } : { halfM, unit: 'mm', perMetre: 1000 };
}
