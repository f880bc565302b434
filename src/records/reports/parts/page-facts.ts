import type { WorkedPoint } from '../../working-step.js';
import type { ReportFile } from '../reduction-report.js';
import type { SurveyCrew } from './survey-crew.js';

/** What every page says of the run that made it. */
export interface PageFacts {
  readonly toolVersion: string;
  /** Milliseconds since 1970-01-01T00:00:00Z; null: not to be said. */
  readonly timeMs: number | null;
  /** As it was typed, without the name of the program. */
  readonly command: readonly string[];
  readonly crew: SurveyCrew;
  readonly files: readonly ReportFile[];
  readonly warnings: readonly string[];
  /** POINT or POINT@OCCUPATION, where the page is of that one point; absent: of the whole run. */
  readonly onlyPoint?: string;
  /** What --explain prints of its point, which the page is then of; absent: the page is of the whole run. */
  readonly worked?: readonly WorkedPoint[];
}
