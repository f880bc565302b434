import type { Answer } from '../runs/run-answer.js';
import type { SkySystem } from '../sky/orbit-elements.js';
import type { SiteSky, SkyLimits, SkySight, SkySite, SkyTimes } from '../sky/site-sky.js';
import type { PageFacts } from './parts/page-facts.js';

/** A site that is drawn, with the satellites above its horizon. */
export interface DrawnSky {
  readonly sky: SiteSky;
  readonly sights: readonly SkySight[];
}

/** Everything the page of a sky says. */
export interface SkyReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  readonly times: SkyTimes;
  /** How far the clock that hours were given by is ahead of UTC, minutes. */
  readonly offsetMinutes: number;
  readonly base: SkySite | null;
  readonly limits: SkyLimits;
  readonly elevationMaskDeg: number;
  readonly skies: readonly SiteSky[];
  readonly drawn: readonly DrawnSky[];
  readonly known: readonly { readonly satellite: string; readonly system: SkySystem }[];
  readonly unhealthy: readonly string[];
  readonly missing: readonly string[];
  readonly broadcastHours: number | null;
  readonly almanacHours: number | null;
  /** Records of a kind that is not planned with, and how many. */
  readonly skipped: readonly (readonly [string, number])[];
  /** How much earlier GPS satellites come back each day by their elements, seconds; null: no GPS. */
  readonly repeatS: number | null;
}
