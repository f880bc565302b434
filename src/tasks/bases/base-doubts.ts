import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { PreparedBase } from './prepare-bases.js';
import { entryAt } from '../../records/present.js';

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

/** First and last epoch of something, milliseconds. */
interface Span {
  readonly firstMs: number;
  readonly lastMs: number;
}

/**
 * base-window-open where set-ups without a window of time cannot be told from those of another day.
 *
 * Given: the bases; the span of the epochs up to the end of what is reduced; that of those before, which another part of
 * the whole reduces; null without times. Returned: the warning where these epochs give the reason for it and those
 * before did not, so that of the parts of a whole one says it, as the whole does.
 */
export function openWindowWarning(
  bases: readonly PreparedBase[],
  span: Span | null,
  before: Span | null = null,
): Problem | null {
  const open = bases
    .filter(({ settings }) => settings.fromMs === null && settings.toMs === null)
    .map(({ settings }) => settings.id);
  if (open.length === 0 || span === null) return null;
  const names = open.length === 1 ? `base ${entryAt(open, 0)} has` : `bases ${open.join(', ')} have`;
  const hint =
    'give each set-up of a base its from_utc and to_utc: coordinates and antenna height of one day are not those of another';
  if (open.length < bases.length) {
    return before === null
      ? warningProblem('base-window-open', {
          message: `${names} no window of time, and other bases of the session have`,
          hint,
        })
      : null;
  }
  if (!isLong(span) || (before !== null && isLong(before))) return null;
  return warningProblem('base-window-open', {
    message: `${names} no window of time, and the fixes span more than a day`,
    hint,
  });
}

function isLong({ firstMs, lastMs }: Span): boolean {
  return lastMs - firstMs > ONE_DAY_MS;
}
