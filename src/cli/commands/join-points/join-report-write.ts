import type { Answer } from '../../../records/runs/run-answer.js';
import { joinPage } from '../../../report/join/join-page.js';
import { spanOf } from '../../../core/observation/survey-span.js';
import { joinReport } from '../../../tasks/pages/join-report.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { JoinAsked } from './join-mode.js';
import { workedLines } from './worked-lines.js';
import type { JoinResults } from './join-results.js';

/** Lines that a page works through; the command prints all. */
const MOST_WORKED = 40;

/** A run that was made, and what was said of it. */
export interface JoinedRun {
  readonly results: JoinResults;
  readonly loaded: LoadedStations;
  readonly asked: JoinAsked;
  readonly answer: Answer;
  readonly said: readonly string[];
}

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeJoinReport(
  path: string,
  { results, loaded, asked, answer, said }: JoinedRun,
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
    hasDms: asked.form === 'dms',
    worked: asked.explain ? [...workedLines(results.joins.slice(0, MOST_WORKED), loaded.setup.grid)] : [],
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
