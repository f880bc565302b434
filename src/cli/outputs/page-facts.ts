import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import { VERSION } from '../../records/runs/version.js';
import type { RunLog } from '../shell/run/run-log.js';
import { shownCommand } from '../shell/help/shown-command.js';
import type { Workbench } from '../shell/workbench.js';

/** What every page says of its run so far: warnings that come later are not on it. Given last: codes whose warnings are of what the page does not show. */
export function pageFacts(bench: Workbench, log: RunLog, leftOut?: ReadonlySet<ProblemCode>): PageFacts {
  return {
    toolVersion: VERSION,
    timeMs: log.timeMs,
    command: shownCommand(bench.context.argv),
    crew: log.crew,
    files: log.inputs,
    warnings: bench.diagnostics.warnings(leftOut),
  };
}
