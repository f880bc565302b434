import type { PlanDaysSettings } from '../../../tasks/plan/plan-days.js';
import { loadPlan } from '../../../files/plan/load-plan.js';
import type { LoadedPlan } from '../../../files/plan/load-plan.js';
import { isGeojson } from '../../../files/plan/open-plan-input.js';
import { errorProblem } from '../../../records/problem.js';
import type { PlanTime } from '../../../tasks/plan/plan-cautions.js';
import type { StreamAsked } from '../../../tasks/plan/plan-stream.js';
import { plannedSession } from '../../inputs/known-session.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { tableOptions } from '../../inputs/table-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import type { Workbench } from '../../shell/workbench.js';
import { checkPlanOptions } from './options/idle-options.js';
import type { PlanReading } from './options/plan-inputs.js';
import { checkBasePlace } from './options/plan-place.js';
import { overridePlanSettings, planChoices } from './options/plan-settings.js';
import { streamAsked, USUAL_HOURS } from './options/plan-stream.js';
import { planTime, timetableSettings } from './options/plan-timetable.js';
import { sitingQuestion } from './options/siting-options.js';
import type { SitingQuestion } from './options/siting-options.js';

/** A plan before its files of places are read. */
export interface PreparedPlan {
  /** The file of places to be served. */
  readonly path: string;
  readonly resolved: ResolvedSession;
  readonly loaded: LoadedPlan;
  readonly reading: PlanReading;
  readonly question: SitingQuestion;
  readonly time: PlanTime;
  readonly hours: number;
  /** Null: no timetable is asked for. */
  readonly day: PlanDaysSettings | null;
  readonly stream: StreamAsked | null;
  /** The point whose prediction is to be worked through; null: none. */
  readonly explain: string | null;
}

/** Reads the options and the session, and loads systems and geoid. Problems stop the run. */
export async function preparePlan(bench: Workbench, log: RunLog): Promise<PreparedPlan> {
  const { invocation, diagnostics } = bench;
  const path = inputName(bench);
  bench.take(checkPlanOptions(invocation));
  const question = bench.take(sitingQuestion(invocation));
  const time = bench.take(planTime(invocation));
  const resolved = bench.take(overridePlanSettings(await plannedSession(bench, log), invocation));
  log.session(resolved, bench.diagnostics);
  const tables = bench.take(tableOptions(invocation, null));
  const files = [path, ...textsGiven(invocation, ['candidates', 'control'])];
  const choices = bench.take(planChoices(resolved, invocation));
  const loaded = bench.take(await loadPlan(resolved, choices, files.every(isGeojson)));
  if (question.kind === 'given') bench.take(checkBasePlace(question.base, loaded));
  const day = bench.take(timetableSettings(invocation, time, choices.epochCount));
  const stream = bench.take(await streamAsked(bench, log));
  for (const [key, origin] of Object.entries(resolved.origins)) diagnostics.detail(`pegbook: ${key} from ${origin}`);
  const usesGeojson =
    bench.format === 'geojson' || textOption(invocation, 'coverage') !== null || files.some(isGeojson);
  const datum = usesGeojson ? geojsonFrameProblem(loaded.fixesSystem) : null;
  if (datum !== null) throw new StopError([datum]);
  const { fixesSystem, grid, geoid } = loaded;
  log.models({ fixesSystem, grid, geoid }, diagnostics);
  return {
    path,
    resolved,
    loaded,
    reading: {
      tables,
      grid,
      needs: { position: grid === null ? 'geographic' : 'any', height: 'none' },
      systems: loaded,
    },
    question,
    time,
    hours: numberOption(invocation, 'hours') ?? USUAL_HOURS,
    day,
    stream,
    explain: textOption(invocation, 'explain'),
  };
}

/** The input named; standard input only when it is named or piped in. */
function inputName({ invocation, context }: Workbench): string {
  const named = invocation.args[0];
  if (named !== undefined) return named;
  if (context.stdin.isTTY !== true) return '-';
  throw new StopError([
    errorProblem('usage-invalid', {
      message: 'no input is named',
      hint: 'pegbook plan-baseline FILE --base LAT,LON; pegbook help plan-baseline shows more',
    }),
  ]);
}
