import { fixPlaces } from '../../../files/reduction/fix-places.js';
import type { OpenedFixes } from '../../../files/reduction/open-fixes.js';
import type { DayReduction } from '../../../files/reduction/prepare-day.js';
import { passThroughNames } from '../../../files/reduction/pass-through.js';
import type { ReadDay } from '../../../files/reduction/pass-through.js';
import { openFlow } from '../../../files/reduction/reduction-flow.js';
import type { ReductionAudience, ReductionFlow } from '../../../files/reduction/reduction-flow.js';
import { entryAt, present } from '../../../records/present.js';
import { isReferred } from '../../../tasks/job/known-from-day.js';
import { basesAgree } from '../../../tasks/job/bases-of-days.js';
import { joinDays, namedSetups } from '../../../tasks/job/join-days.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { createEpochsWriter } from '../../outputs/epochs-writer.js';
import { inputPaths } from '../../inputs/input-paths.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { explainTarget } from './options/explain-target.js';
import { reductionInputs } from './options/fix-settings.js';
import type { ReductionInputs } from './options/fix-settings.js';
import type { PreparedRun, RunDay } from './prepare-run.js';
import { openOccupationSky } from './say/occupation-sky.js';
import type { OccupationSkyWriter } from './say/occupation-sky.js';
import { openOutputs } from './say/reduction-outputs.js';
import type { ReductionOutputs } from './say/reduction-outputs.js';
import type { ReductionReportWriter } from './say/reduction-report.js';
import { setUpDay } from './set-up-day.js';

/** A run whose outputs are open and whose inputs are known by their headers. */
export interface OpenedRun {
  /** What each day is reduced with; null: known when the days before it are reduced. */
  readonly setups: readonly (DayReduction | null)[];
  readonly flow: ReductionFlow;
  readonly outputs: ReductionOutputs;
  readonly page: ReductionReportWriter | null;
  /** Null: no navigation file is named. */
  readonly sky: OccupationSkyWriter | null;
  readonly readDays: readonly (ReadDay<RunDay> & Pick<ReductionInputs, 'withoutEpochs'>)[];
  /** The only input, already open; null where there are several. */
  readonly first: OpenedFixes | null;
  /** The columns that pass through. */
  readonly names: readonly string[];
}

/** Loads what the days name, opens all outputs, and reads the headers of the inputs. */
export async function openRun(bench: Workbench, log: RunLog, run: PreparedRun): Promise<OpenedRun> {
  const { invocation, diagnostics } = bench;
  const setups: (DayReduction | null)[] = [];
  for (const day of run.days)
    setups.push(
      day.id !== null && day.resolved.session.bases.some(isReferred) ? null : await setUpDay(bench, log, run, day),
    );
  if (run.job !== null) {
    const joint = bench.take(joinDays(namedSetups(run.days, setups)));
    bench.take(basesAgree(run.job.job.days, setups, joint.ellipsoid));
    for (const { paths, surroundings } of run.days) bench.guard(inputPaths(paths, surroundings.cwd));
  }
  const setup = present(setups[0], 'what the first day is reduced with');
  const outputs = await openOutputs(bench);
  const reportPath = textOption(invocation, 'report');
  const page =
    reportPath === null
      ? null
      : await (await import('./say/reduction-report.js')).openReductionReport(reportPath, bench, run, log);
  const sky = await openOccupationSky(bench, log);
  const readDays = run.days.map((day, index) => ({
    day,
    // A day whose base comes from an earlier one is set up when its turn comes; the days of a job share their systems.
    ...bench.take(reductionInputs(invocation, run.days, day, fixPlaces(setups[index] ?? setup))),
  }));
  const { first, names } = bench.take(await passThroughNames(readDays));
  const csv = csvWriteOptions(invocation);
  const flow = openFlow({
    format: bench.format,
    csv,
    isHeaded: !flagOption(invocation, 'omitHeader'),
    isViewed: bench.isViewed(),
    areEpochsViewed: bench.isViewed('epochs'),
    isHeld: run.job !== null || run.asked.isCombined || run.asked.isEstimated,
    names,
    epochYear: entryAt(run.days, 0).resolved.session.system?.epochYear ?? null,
    setup,
    outputs,
    epochs: createEpochsWriter(run.sources, csv),
    page: audienceOf(page, sky),
    explain: explainTarget(invocation),
    report: (problems) => {
      diagnostics.report(problems);
    },
  });
  if (outputs.points !== null) bench.columns(flow.columns);
  return { setups, flow, outputs, page, sky, readDays, first, names };
}

/** The page and the sky, as far as they are asked for. */
function audienceOf(page: ReductionAudience | null, sky: OccupationSkyWriter | null): ReductionAudience | null {
  if (sky === null) return page;
  return {
    addOccupation(reduced, day) {
      page?.addOccupation(reduced, day);
      sky.addOccupation(reduced, day);
    },
    addPoint(point) {
      page?.addPoint(point);
    },
  };
}
