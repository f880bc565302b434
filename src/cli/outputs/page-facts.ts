import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import { VERSION } from '../../records/runs/version.js';
import { textOption } from '../shell/command-spec.js';
import type { RunLog } from '../shell/run/run-log.js';
import { shownCommand } from '../shell/help/shown-command.js';
import type { Workbench } from '../shell/workbench.js';

/** What every page says of its run so far: warnings that come later are not on it. With --explain the page is that of one point. */
export function pageFacts(bench: Workbench, log: RunLog): PageFacts {
  const onlyPoint = textOption(bench.invocation, 'explain');
  return {
    toolVersion: VERSION,
    timeMs: log.timeMs,
    command: shownCommand(bench.context.argv),
    crew: log.crew,
    files: log.inputs,
    warnings: bench.diagnostics.warnings(),
    ...(onlyPoint !== null && { onlyPoint }),
  };
}
