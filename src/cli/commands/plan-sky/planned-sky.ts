import type { NavigationFile } from '../../../files/sky/read-navigation-files.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { SiteSky } from '../../../records/sky/site-sky.js';
import type { SkyRun } from '../../../tasks/sky/run-sky.js';
import type { SkySetup } from '../../../tasks/sky/sky-setup.js';

/** A sky that was planned, with what it was planned from. */
export interface PlannedSky {
  readonly setup: SkySetup;
  readonly run: SkyRun;
  readonly skies: readonly SiteSky[];
  readonly files: readonly NavigationFile[];
  readonly answer: RunAnswer;
  /** How far the clock that hours were given by is ahead of UTC, minutes. */
  readonly offsetMinutes: number;
}
