import { formatFixed } from '../core/numeric/format-fixed.js';
import { formatUtc } from '../core/numeric/utc-text.js';
import { errorProblem, warningProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { PreparedBase } from './prepare-bases.js';

/**
 * From here on a known coordinate is another place than the one broadcast, metres: a receiver's own
 * position is off by metres, a datum by hundreds of metres. Common practice, no published source.
 */
export const BASE_SHIFT_LIMIT_M = 1000;
/** Fixes further apart in time than this are more than one day's work, milliseconds. */
export const ONE_DAY_MS: number = 24 * 3600 * 1000;

/** base-shift-large for each base known a kilometre or more from what it broadcast. */
export function baseShiftProblems(bases: readonly PreparedBase[]): readonly Problem[] {
  return bases.flatMap(({ settings, correction }, index) => {
    if (correction === null || correction.magnitudeM < BASE_SHIFT_LIMIT_M) return [];
    return [
      errorProblem('base-shift-large', {
        message: `base ${settings.id} is known ${formatFixed(correction.magnitudeM / 1000, 3)} km from what it broadcast`,
        where: { path: `base[${String(index)}]` },
        hint: 'one of the two coordinates is of another place or system; if every point is to move that far, give --accept-base-shift',
      }),
    ];
  });
}

/**
 * base-window-open where set-ups without a window of time cannot be told from those of another day.
 *
 * Given: the bases; first and last epoch reduced, milliseconds; null without times.
 */
export function openWindowWarning(bases: readonly PreparedBase[], span: { readonly firstMs: number; readonly lastMs: number } | null): Problem | null {
  const open = bases.filter(({ settings }) => settings.fromMs === null && settings.toMs === null).map(({ settings }) => settings.id);
  if (open.length === 0 || span === null) return null;
  const names = open.length === 1 ? `base ${open[0] ?? ''} has` : `bases ${open.join(', ')} have`;
  const hint = 'give each set-up of a base its from_utc and to_utc: coordinates and antenna height of one day are not those of another';
  if (span.lastMs - span.firstMs > ONE_DAY_MS) {
    return warningProblem('base-window-open', { message: `${names} no window of time, and the fixes run from ${formatUtc(span.firstMs)} to ${formatUtc(span.lastMs)}`, hint });
  }
  return open.length === bases.length ? null : warningProblem('base-window-open', { message: `${names} no window of time, and other bases of the session have`, hint });
}
