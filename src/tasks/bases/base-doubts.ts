import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { BaseSettings } from '../../records/session.js';
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

/** What speaks against the coordinates of bases, unless --accept-base-shift was given. */
export function baseProblems({ bases, geoid }: Pick<ReductionSetup, 'bases' | 'geoid'>): readonly Problem[] {
  return [...baseShiftProblems(bases), ...baseHeightProblems(bases, geoid)];
}

/** A geoid height smaller than this is told from nothing, metres. */
const LEAST_GEOID_M = 2;
/** From here on a receiver's own position, off by metres, is told from a height of the other kind, metres. */
const GREAT_GEOID_M = 15;
/** Geoid models differ by this and less, metres; heights of one mark agree better. */
const MODELS_APART_M = 0.5;
/** Two coordinates that are nearer in plan are of one survey, metres. */
const ONE_SURVEY_M = 1;

/**
 * base-height-kind for each base whose two heights differ by the geoid height there while its place hardly differs: one of the two is of the other
 * kind, and nothing here tells which. Where the session says that the known height is orthometric it was meant. The limits are common practice, no published source.
 */
export function baseHeightProblems(bases: readonly PreparedBase[], geoid: GeoidModel | null): readonly Problem[] {
  return bases.flatMap(({ settings, correction, arpGeodetic: { latitudeDeg, longitudeDeg } }, index) => {
    const n = correction === null ? null : (geoid?.heightAt(latitudeDeg, longitudeDeg) ?? null); // Without a geoid nothing is told.
    if (correction === null || n === null || Math.abs(n) < LEAST_GEOID_M || saysItsKind(settings.known)) return [];
    const { eastM, northM, upM } = correction.local;
    const planM = Math.hypot(eastM, northM);
    const isOneSurvey = planM <= ONE_SURVEY_M;
    if (!isOneSurvey && Math.abs(n) < GREAT_GEOID_M) return [];
    const allowedM = isOneSurvey ? MODELS_APART_M : Math.min(Math.abs(n) / 5, 2 * planM);
    const apartM = Math.min(Math.abs(upM - n), Math.abs(upM + n));
    if (apartM > allowedM) return [];
    // H − h = −N.
    const isKnownOrthometric = Math.abs(upM + n) <= Math.abs(upM - n);
    return [
      errorProblem('base-height-kind', {
        message: `base ${settings.id} is known ${formatFixed(Math.abs(upM), 3)} m ${upM < 0 ? 'lower' : 'higher'} than what it broadcast, and the geoid height there is ${formatFixed(n, 3)} m: ${isKnownOrthometric ? 'the known height looks orthometric' : 'the height that was broadcast looks orthometric'}, where an ellipsoidal one belongs`,
        where: { path: `base[${String(index)}]` },
        hint: 'give the known height by its name (orthometric_height_m or ellipsoidal_height_m); if it is ellipsoidal and the base was keyed in with an orthometric one, give --accept-base-shift',
      }),
    ];
  });
}

/** Whether the session says of the known height that it is orthometric. */
function saysItsKind(known: BaseSettings['known']): boolean {
  if (known === null) return false;
  return known.kind === 'geodetic-orthometric' || (known.kind === 'grid' && known.height.kind === 'orthometric');
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
