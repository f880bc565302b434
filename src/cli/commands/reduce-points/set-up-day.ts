import { prepareDay } from '../../../files/reduction/prepare-day.js';
import type { DayReduction } from '../../../files/reduction/prepare-day.js';
import { failure } from '../../../records/outcome.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import type { RunLog } from '../../shell/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { PreparedRun, RunDay } from './prepare-run.js';
import { shiftMethod } from './say/reduction-shift-notes.js';

/** Loads what a day is reduced with; what it loaded stands in the record. Stops where any of it is refused. */
export async function setUpDay(
  bench: Workbench,
  log: RunLog,
  { sources }: Pick<PreparedRun, 'sources'>,
  day: RunDay,
): Promise<DayReduction> {
  const { diagnostics } = bench;
  const setup = bench.take(await prepareDay(day, sources));
  log.models(setup);
  for (const [key, origin] of Object.entries(day.resolved.origins))
    diagnostics.detail(`pegbook: ${day.id === null ? '' : `${day.id}: `}${key} from ${origin}`);
  const method = shiftMethod(setup);
  if (method !== null) log.method(method);
  if (setup.shift?.file != null)
    log.model('grid', {
      role: 'shift',
      name: setup.shift.file.name,
      definition: null,
      sha256: setup.shift.file.sha256,
    });
  const wrongFrame =
    bench.format === 'geojson' ? geojsonFrameProblem(setup.shift === null ? setup.fixesSystem : setup.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  return setup;
}
