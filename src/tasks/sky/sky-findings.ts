import { FRESH_ALMANAC_MS, FRESH_MS } from '../../core/sky/chosen-elements.js';
import { NO_ELEMENTS, UNHEALTHY } from '../../core/sky/orbit-track.js';
import type { OrbitTrack } from '../../core/sky/orbit-track.js';
import { largestOf } from '../../core/numeric/extremes.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { MOST_FROM_BASE_M } from './far-from-base.js';
import type { FarSite } from './far-from-base.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** What is to be known of the elements of a plan. */
export interface SkyFindings {
  /** Satellites that say of themselves, for some instant, that they are not to be used. */
  readonly unhealthy: readonly string[];
  /** Satellites whose elements lie too far from some instant. */
  readonly missing: readonly string[];
  /** Largest distance in time between an instant and the elements used, hours; null: none of the origin was used. */
  readonly broadcastHours: number | null;
  readonly almanacHours: number | null;
  readonly warnings: readonly Problem[];
}

const HOUR_MS = 3_600_000;

/** Looks at how old elements are, which satellites are left out, and which sites are too far from the base. */
export function skyFindings(tracks: readonly OrbitTrack[], far: readonly FarSite[]): SkyFindings {
  const named = (state: number): readonly string[] =>
    tracks.filter(({ states }) => states.includes(state)).map(({ satellite }) => satellite);
  const hours = (origin: 'broadcast' | 'almanac'): number | null => {
    const ages = tracks.flatMap(({ oldestMs }) => oldestMs[origin] ?? []);
    return ages.length === 0 ? null : largestOf(ages) / HOUR_MS;
  };
  const missing = named(NO_ELEMENTS);
  const [broadcastHours, almanacHours] = [hours('broadcast'), hours('almanac')];
  const warnings: Problem[] = [];
  const [farthest] = far;
  if (farthest !== undefined)
    warnings.push(
      warningProblem('sky-base-far', {
        message: `the base is ${formatFixed(farthest.distanceM / 1000, 0)} km from ${farthest.id}${far.length > 1 ? `, and more than ${String(MOST_FROM_BASE_M / 1000)} km from ${String(far.length - 1)} more` : ''}`,
        hint: 'the latitude comes first, and west and south are negative: --base LAT,LON,H',
      }),
    );
  if (broadcastHours !== null && broadcastHours * HOUR_MS > FRESH_MS)
    warnings.push(
      warningProblem('sky-elements-old', {
        message: `broadcast elements are used up to ${formatFixed(broadcastHours, 0)} h from their time`,
        hint: 'a navigation file of the day before is better; a satellite may have been moved or switched off since',
      }),
    );
  if (almanacHours !== null && almanacHours * HOUR_MS > FRESH_ALMANAC_MS)
    warnings.push(
      warningProblem('sky-almanac-old', {
        message: `almanacs are used up to ${formatFixed(almanacHours / 24, 0)} days from their time`,
        hint: 'get a newer one: satellites are moved, added and switched off',
      }),
    );
  if (missing.length > 0)
    warnings.push(
      warningProblem('sky-elements-missing', {
        message: `of ${String(missing.length)} satellites the elements lie too far from part of the time, and they are left out there: ${missing.slice(0, 12).join(', ')}${missing.length > 12 ? ' and others' : ''}`,
        hint: 'states of GLONASS are carried on for three days, broadcast elements for seven, almanacs for half a year',
      }),
    );
  return { unhealthy: named(UNHEALTHY), missing, broadcastHours, almanacHours, warnings };
}
