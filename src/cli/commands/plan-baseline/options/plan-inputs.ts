import { extname } from 'node:path';
import { pushAll } from '../../../../core/numeric/push-all.js';
import type { BaseCandidate } from '../../../../core/planning/plan-point.js';
import { createCandidateAttributes } from '../../../../io/tables/candidate-attributes.js';
import { readPlanGeometry } from '../../../../io/geojson/plan-geometry-read.js';
import { readPoints } from '../../../../io/tables/points/points-read.js';
import { openSource } from '../../../../io/bytes/source.js';
import { wholeText } from '../../../../io/text/whole-text.js';
import { failure, failureOf, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import type { PlanShape } from '../../../../records/reports/plan-shape.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { shapeDoubts } from '../../../../tasks/bases/place-doubt.js';
import type { PlaceSystems } from '../../../../tasks/bases/place-doubt.js';
import { locateRows } from '../../../../tasks/plan/locate-rows.js';
import type { LocatedRow, RowSystems } from '../../../../tasks/plan/locate-rows.js';
import { axisNames, openPoints } from '../../../../files/points/open-points.js';
import { collectPoints } from '../../../inputs/collect-points.js';
import { withOnePosition } from '../../../../files/points/one-position-input.js';
import type { OpenedPoints, PointInputSettings } from '../../../../files/points/open-points.js';
import type { Rejects } from '../../../outputs/rejects.js';
import type { RunLog } from '../../../shell/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { TableOptions } from '../../../inputs/table-options.js';

/** What was read of the main input. */
export interface PlanInput {
  readonly rows: readonly LocatedRow[];
  readonly shapes: readonly PlanShape[];
  readonly passThroughNames: readonly string[];
  readonly rejected: number;
  readonly name: string;
}

/** True for a file read as GeoJSON. */
export function isGeojson(path: string): boolean {
  return ['.geojson', '.json'].includes(extname(path).toLowerCase());
}

/** How the files of a plan are read. */
export interface PlanInputSettings extends PointInputSettings {
  readonly tables: TableOptions;
}

/** Reads the points, lines and areas to be served, and logs the input. */
export async function readPlanInput(
  path: string,
  settings: PlanInputSettings,
  systems: Omit<RowSystems, 'sources'>,
  bench: Workbench,
  log: RunLog,
  rejects: Rejects,
): Promise<PlanInput> {
  if (!isGeojson(path)) {
    const opened = bench.take(await openPoints(path, 0, settings, bench.context));
    return collected(opened, [], systems, settings, bench, log, rejects);
  }
  const { tables } = settings;
  const source = bench.take(
    await openSource(path, { cwd: bench.context.cwd, stdin: bench.context.stdin, encoding: tables.encoding }),
  );
  const text = bench.take(await wholeText(source));
  const geometry = bench.take(readPlanGeometry(text, source.name));
  if (geometry.points === null) {
    log.input(source, 'geojson', geometry.shapes.length, 0);
    checkShapes(geometry.shapes, systems, bench);
    return { rows: [], shapes: geometry.shapes, passThroughNames: [], rejected: 0, name: source.name };
  }
  const input = bench.take(
    readPoints(geometry.points, {
      sourceIndex: 0,
      mapping: tables.mapping,
      axes: axisNames(settings.grid),
      needs: settings.needs,
      place: geometry.place,
    }),
  );
  const one = withOnePosition(input, {
    grid: settings.grid,
    choice: tables.positionFrom,
    source: source.name,
    place: geometry.place,
  });
  return collected({ source, kind: 'geojson', input: one }, geometry.shapes, systems, settings, bench, log, rejects);
}

async function collected(
  opened: OpenedPoints,
  shapes: readonly PlanShape[],
  systems: Omit<RowSystems, 'sources'>,
  settings: PlanInputSettings,
  bench: Workbench,
  log: RunLog,
  rejects: Rejects,
): Promise<PlanInput> {
  const { points, rejected } = await collectPoints(opened, bench, settings.tables.onError, rejects);
  log.input(opened.source, opened.kind, points.length + shapes.length, rejected);
  const rows = bench.take(locateRows(points, { ...systems, sources: [opened.source.name] }));
  checkShapes(shapes, systems, bench);
  return { rows, shapes, passThroughNames: opened.input.passThroughNames, rejected, name: opened.source.name };
}

function checkShapes(shapes: readonly PlanShape[], systems: PlaceSystems, bench: Workbench): void {
  const doubts = shapeDoubts(shapes, systems);
  bench.take(doubts.some(({ severity }) => severity === 'error') ? failureOf(doubts) : success(null, doubts));
}

/**
 * Candidates, their attributes read from columns named cellular, sky_score and cost. The main input's --columns and
 * --no-header do not hold for them: they have a header with our names.
 */
export async function readCandidates(
  path: string,
  settings: PlanInputSettings,
  systems: Omit<RowSystems, 'sources'>,
  bench: Workbench,
  log: RunLog,
): Promise<readonly BaseCandidate[]> {
  const { opened, rows } = await sideRows(path, 'candidates', settings, systems, bench, log);
  const read = createCandidateAttributes(
    opened.input.passThroughNames,
    opened.source.name,
    settings.tables.dialect.decimalComma,
  );
  const problems: Problem[] = [];
  const candidates: BaseCandidate[] = [];
  for (const { row, ...place } of rows) {
    const attributes = read(row);
    if (attributes.ok) candidates.push({ ...place, ...attributes.value });
    else pushAll(problems, attributes.problems);
  }
  return bench.take(problems.length > 0 ? failureOf(problems) : notEmpty(candidates, opened.source.name, 'candidates'));
}

/** Control points for the timetable. */
export async function readControl(
  path: string,
  settings: PlanInputSettings,
  systems: Omit<RowSystems, 'sources'>,
  bench: Workbench,
  log: RunLog,
): Promise<readonly LocatedRow[]> {
  return (await sideRows(path, 'control', settings, systems, bench, log)).rows;
}

async function sideRows(
  path: string,
  kind: string,
  settings: PlanInputSettings,
  systems: Omit<RowSystems, 'sources'>,
  bench: Workbench,
  log: RunLog,
): Promise<{ readonly opened: OpenedPoints; readonly rows: readonly LocatedRow[] }> {
  const tables = {
    ...settings.tables,
    mapping: {},
    dialect: { ...settings.tables.dialect, hasHeader: true, skipLines: 0 },
  };
  const opened = bench.take(await openPoints(path, 1, { ...settings, tables }, bench.context));
  const { points } = await collectPoints(opened, bench, 'stop');
  log.input(opened.source, kind, points.length, 0);
  const rows = locateRows(points, { ...systems, sources: ['', opened.source.name] });
  return { opened, rows: bench.take(rows.ok ? rows : failureOf(rows.problems.map(ofSideFile))) };
}

/** --columns does not hold for these files, so no message may send the user there. */
function ofSideFile(problem: Problem): Problem {
  return problem.hint?.includes('--columns') === true
    ? { ...problem, hint: 'put it right in the file: --columns holds for the points only' }
    : problem;
}

/** Problem: value-missing for an input without rows. */
export function notEmpty<T>(rows: readonly T[], source: string, what: string): Outcome<readonly T[]> {
  if (rows.length > 0) return success(rows);
  return failure(
    errorProblem('value-missing', {
      message: `there are no ${what} in the file`,
      where: { source },
      hint: 'check the file and its rows',
    }),
  );
}
