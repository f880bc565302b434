import { loadReductionSetup } from '../../../files/reduction/load-reduction-setup.js';
import { phaseCentreMissing } from '../../../files/reduction/phase-centre-missing.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { OccupationInterval } from '../../../io/tables/fixes/occupations-read.js';
import { failure, failureOf } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { baseShiftProblems } from '../../../tasks/bases/base-doubts.js';
import type { ReductionSetup } from '../../../tasks/reduce/reduction-setup.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';
import { shiftMethod } from './say/reduction-shift-notes.js';
import type { Context } from '../../shell/context.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import type { RunLog } from '../../shell/run-log.js';
import { resolveSession } from '../../inputs/session-settings.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { StopError } from '../../shell/stop.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { TableOptions } from '../../inputs/table-options.js';
import type { Workbench } from '../../shell/workbench.js';
import { heldOptions } from './options/held-options.js';
import type { HeldOptions } from './options/held-options.js';
import { openOccupations } from './options/open-occupations.js';
import { rowShare } from './blocks/row-share.js';
import type { RowShare } from './blocks/row-share.js';

/** Everything that is known of a reduction before its first row. */
export interface PreparedRun {
  /** As typed; `-` for standard input. */
  readonly paths: readonly string[];
  /** The rows that are ours, with --rows; null: all. */
  readonly share: RowShare | null;
  readonly asked: HeldOptions;
  readonly resolved: ResolvedSession;
  readonly tables: TableOptions;
  /** Named occupations of a log; null: none are named. */
  readonly occupations: readonly OccupationInterval[] | null;
  readonly setup: ReductionSetup & { readonly grid: GridSystem };
}

/** Reads options and session and loads what they name; all of it stands in the record. Stops where any of it is refused. */
export async function prepareRun(bench: Workbench, log: RunLog): Promise<PreparedRun> {
  const { invocation, context, diagnostics } = bench;
  const paths = inputNames(invocation, context);
  const share = bench.take(rowShare(invocation, paths.length));
  const asked = bench.take(heldOptions(invocation));
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved);
  const tables = bench.take(tableOptions(invocation, resolved.session.columns));
  const occupations = bench.take(await openOccupations(invocation, context));
  if (occupations !== null) log.input(occupations.source, 'occupations', occupations.intervals.length, 0);
  const offsetMissing = phaseCentreMissing(resolved.session, paths, textOption(invocation, 'input'));
  if (offsetMissing !== null) bench.take(failure(offsetMissing));
  const setup = bench.take(
    await loadReductionSetup(
      resolved,
      paths.map((path) => (path === '-' ? 'stdin' : path)),
    ),
  );
  const shifted = flagOption(invocation, 'acceptBaseShift') ? [] : baseShiftProblems(setup.bases);
  if (shifted.length > 0) bench.take(failureOf(shifted));
  log.models(setup);
  for (const [key, origin] of Object.entries(resolved.origins)) diagnostics.detail(`pegbook: ${key} from ${origin}`);
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
  return { paths, share, asked, resolved, tables, occupations: occupations?.intervals ?? null, setup };
}

/** The inputs named; standard input only when it is named or piped in and nothing else is. */
function inputNames(invocation: Invocation, context: Context): readonly string[] {
  if (invocation.args.length > 0) return invocation.args;
  if (context.stdin.isTTY === true) {
    throw new StopError([
      errorProblem('usage-invalid', {
        message: 'no input is named',
        hint: 'pegbook reduce-points FILE --session FILE; pegbook help reduce-points shows more',
      }),
    ]);
  }
  return ['-'];
}
