import type { BaseCandidate } from '../../../../core/planning/plan-point.js';
import { candidatesOf } from '../../../../files/plan/candidates-of.js';
import { openPlanInput } from '../../../../files/plan/open-plan-input.js';
import { openPoints } from '../../../../files/points/open-points.js';
import type { OpenedPoints, PointInputSettings } from '../../../../files/points/open-points.js';
import { failureOf, success } from '../../../../records/outcome.js';
import type { Problem } from '../../../../records/problem.js';
import { shapeDoubts } from '../../../../tasks/bases/place-doubt.js';
import { createRowLocator, locateRows } from '../../../../tasks/plan/targets/locate-rows.js';
import type { LocatedRow, RowSystems } from '../../../../tasks/plan/targets/locate-rows.js';
import type { PlanPlaces } from '../../../../tasks/plan/targets/plan-targets.js';
import { collectPoints, eachPoint } from '../../../inputs/collect-points.js';
import type { TableOptions } from '../../../inputs/table-options.js';
import type { Rejects } from '../../../outputs/rejects.js';
import { textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';

/** How the files of a plan are read, and what their places are in. */
export interface PlanReading extends PointInputSettings {
  readonly tables: TableOptions;
  readonly systems: Omit<RowSystems, 'sources'>;
}

/** What was read of the main input. */
export interface PlanInput extends PlanPlaces {
  readonly passThroughNames: readonly string[];
  readonly rejected: number;
}

/** Reads the points, lines and areas to be served, and notes them in the record of the run. Problems stop the run. */
export async function readPlanInput(
  path: string,
  reading: PlanReading,
  bench: Workbench,
  log: RunLog,
  rejects: Rejects,
): Promise<PlanInput> {
  const { tables, systems } = reading;
  const { source, shapes, points: opened } = bench.take(await openPlanInput(path, reading, bench.context));
  const { name } = source;
  let rows: readonly LocatedRow[] = [];
  let rejected = 0;
  if (opened === null) log.input(source, 'geojson', shapes.length, 0);
  else {
    const locator = createRowLocator({ ...systems, sources: [name] });
    let good = 0;
    rejected = await eachPoint(opened, bench, tables.onError, rejects, null, (point) => {
      good += 1;
      locator.add(point);
    });
    log.input(source, opened.kind, good + shapes.length, rejected);
    rows = bench.take(locator.end());
  }
  const doubts = shapeDoubts(shapes, systems);
  bench.take(doubts.some(({ severity }) => severity === 'error') ? failureOf(doubts) : success(null, doubts));
  // A file of lines and areas alone passes nothing through.
  return { rows, shapes, passThroughNames: opened?.input.passThroughNames ?? [], rejected, name };
}

/** Candidates with their attributes; none where no file is named. */
export async function readCandidates(
  reading: PlanReading,
  bench: Workbench,
  log: RunLog,
): Promise<readonly BaseCandidate[]> {
  const side = await sideRows('candidates', reading, bench, log);
  if (side === null) return [];
  const { source, input } = side.opened;
  const { passThroughNames } = input;
  const { decimalComma } = reading.tables.dialect;
  return bench.take(candidatesOf(side.rows, { name: source.name, passThroughNames, decimalComma }));
}

/** Control points for the timetable; none where no file is named. */
export async function readControl(reading: PlanReading, bench: Workbench, log: RunLog): Promise<readonly LocatedRow[]> {
  // Without --control there is none to visit.
  return (await sideRows('control', reading, bench, log))?.rows ?? [];
}

/** The main input's --columns and --no-header do not hold for these files: they have a header with our names. */
async function sideRows(
  kind: 'candidates' | 'control',
  reading: PlanReading,
  bench: Workbench,
  log: RunLog,
): Promise<{ readonly opened: OpenedPoints; readonly rows: readonly LocatedRow[] } | null> {
  const path = textOption(bench.invocation, kind);
  if (path === null) return null;
  const dialect = { ...reading.tables.dialect, hasHeader: true, skipLines: 0 };
  const tables = { ...reading.tables, mapping: {}, dialect };
  const opened = bench.take(await openPoints(path, 1, { ...reading, tables }, bench.context));
  const { points } = await collectPoints(opened, bench, 'stop');
  log.input(opened.source, kind, points.length, 0);
  const rows = locateRows(points, { ...reading.systems, sources: ['', opened.source.name] });
  return { opened, rows: bench.take(rows.ok ? rows : failureOf(rows.problems.map(ofSideFile))) };
}

/** --columns does not hold for these files, so no message may send the user there. */
function ofSideFile(problem: Problem): Problem {
  return problem.hint?.includes('--columns') === true
    ? { ...problem, hint: 'put it right in the file: --columns holds for the points only' }
    : problem;
}
