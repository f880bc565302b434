import { basename } from 'node:path';
import { prepareDay } from '../../../files/reduction/prepare-day.js';
import type { DayReduction } from '../../../files/reduction/prepare-day.js';
import type { DayFlow } from '../../../files/reduction/day-flow.js';
import { failure } from '../../../records/outcome.js';
import { present } from '../../../records/present.js';
import { ofDay } from '../../../tasks/job/of-day.js';
import { isReferred, knownFromDay } from '../../../tasks/job/known-from-day.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { PreparedRun, RunDay } from './prepare-run.js';
import { knownLine } from './say/known-line.js';
import type { SettingsFile } from '../../../records/session.js';
import { shiftMethod } from './say/reduction-shift-notes.js';

/** Loads what a day is reduced with; what it loaded stands in the record. Stops where any of it is refused. */
export async function setUpDay(
  bench: Workbench,
  log: RunLog,
  { sources }: Pick<PreparedRun, 'sources'>,
  day: RunDay,
): Promise<DayReduction> {
  const { diagnostics } = bench;
  const setup = bench.take(ofDay(await prepareDay(day, sources), day.id));
  log.models(setup, diagnostics);
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
      ...(setup.shift.file.test !== null && { test: setup.shift.file.test }),
    });
  for (const { settings } of setup.bases) noteFile(log, settings.knownFile);
  const wrongFrame =
    bench.format === 'geojson' ? geojsonFrameProblem(setup.shift === null ? setup.fixesSystem : setup.grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  return setup;
}

/** A file that a base is known by is an input, once for every base and day that it serves. */
function noteFile(log: RunLog, file: SettingsFile | undefined): void {
  if (file === undefined) return;
  const name = basename(file.name);
  if (log.inputs.some((input) => input.name === name && input.sha256 === file.sha256)) return;
  log.file(name, file.kind, file.bytes, file.sha256);
}

/** The same for a day whose bases are known by points of days before it, which are reduced. */
export async function setUpReferred(
  bench: Workbench,
  log: RunLog,
  run: Pick<PreparedRun, 'sources'>,
  day: RunDay,
  before: readonly DayFlow[],
): Promise<DayReduction> {
  const { session } = day.resolved;
  const bases = session.bases.map((base) => {
    if (!isReferred(base)) return base;
    const from = present(
      before.find(({ id }) => id === base.knownFrom.day),
      'the day that a base is known by',
    );
    const found = bench.take(knownFromDay(base, { ...from, id: base.knownFrom.day }));
    bench.diagnostics.say(knownLine(found, base.knownFrom));
    return found;
  });
  const resolved = { ...day.resolved, session: { ...session, bases } };
  log.session(resolved, bench.diagnostics);
  return setUpDay(bench, log, run, { ...day, resolved });
}
