import type { Answer } from '../../../records/runs/run-answer.js';
import { joinPage } from '../../../report/join/join-page.js';
import { spanOf } from '../../../core/observation/survey-span.js';
import { joinReport } from '../../../tasks/pages/join-report.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { JoinResults } from './join-results.js';

/** A run that was made, and what was said of it. */
export interface JoinedRun {
  readonly results: JoinResults;
  readonly loaded: LoadedStations;
  readonly hasDms: boolean;
  readonly answer: Answer;
  readonly said: readonly string[];
}

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeJoinReport(
  path: string,
  { results, loaded, hasDms, answer, said }: JoinedRun,
  bench: Workbench,
  log: RunLog,
): Promise<void> {
  const { columns, described, rows } = results.table;
  const about = {
    surveyed: spanOf(loaded.rows),
    ...pageFacts(bench, log),
    answer,
    columns: described.map(({ name, describe }, index) => ({
      name,
      describe,
      // An identifier and a text are no numbers; angles written in DMS stand like them.
      isNumber: columns[index]?.kind === 'number' || /_(?:deg|arcsec)$/u.test(name),
    })),
    hasDms,
    rows: rows.map(({ cells }) => cells),
    // The counts are what the page begins with.
    statements: said.slice(1),
    refused: loaded.rejected,
    withoutPlace: loaded.withoutPlace,
  };
  const sink = await bench.openPage(path);
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => joinPage(joinReport(results.made, loaded.setup.grid, about))) ?? '');
}
