import { resolve } from 'node:path';
import type { FixInputSettings } from '../../files/reduction/open-fixes.js';
import type { Surroundings } from '../../files/surroundings.js';
import { isFile } from '../../io/bytes/is-file.js';
import type { FixPlaces } from '../../io/tables/fixes/fix-row.js';
import { present } from '../../records/present.js';
import type { Session } from '../../records/session.js';
import { reductionInputs } from '../commands/reduce-points/options/fix-settings.js';
import { jobDays } from '../commands/reduce-points/options/job-days.js';
import { createRunLog } from '../shell/run/run-log.js';
import type { RunLog } from '../shell/run/run-log.js';
import type { Workbench } from '../shell/workbench.js';
import { jobFromOption } from './job-option.js';
import { inputPaths } from './input-paths.js';

/** The fixes of one day of a job, and how they are read: as its reduction reads them. */
export interface FixesOfDay {
  readonly id: string;
  readonly session: Session;
  readonly paths: readonly string[];
  readonly settings: FixInputSettings;
  readonly surroundings: Surroundings;
}

/**
 * The fixes that the days of --job name. `places`: how positions become geodetic; `isWanted`: whether a file that is not there ends
 * the run when it is opened; else its day is left out, which is said. Problems stop the run.
 */
export async function fixesOfJob(
  bench: Workbench,
  log: RunLog,
  places: FixPlaces,
  isWanted: boolean,
): Promise<readonly FixesOfDay[]> {
  const { invocation, context } = bench;
  const job = bench.take(await jobFromOption(invocation, context.cwd, [['session', '--session']], true));
  if (job === null) return [];
  // The session of all days stands in the record already.
  const silent: RunLog = {
    ...createRunLog(invocation, context),
    input(source, kind, rowsUsed, rowsRejected, part) {
      log.input(source, kind, rowsUsed, rowsRejected, part);
    },
  };
  const days = bench.take(await jobDays(bench, silent, job));
  const found: FixesOfDay[] = [];
  for (const day of days) {
    const { paths, surroundings, resolved } = day;
    const id = present(day.id, 'the day of a job');
    const areThere = await Promise.all(paths.map((path) => isFile(resolve(surroundings.cwd, path))));
    const missing = paths.find((_, index) => areThere[index] === false);
    if (missing !== undefined && !isWanted) {
      bench.diagnostics.say(`the fixes of day ${id} are not counted: ${missing} is not there`);
      continue;
    }
    bench.guard(inputPaths(paths, surroundings.cwd));
    const { settings } = bench.take(reductionInputs(invocation, days, day, places));
    found.push({ id, session: resolved.session, paths, settings, surroundings });
  }
  return found;
}
