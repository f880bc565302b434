import { createGeodesic } from '../../../core/ellipsoid/geodesic.js';
import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { loadGeoid } from '../../../files/grids/load-geoid.js';
import { openPoints } from '../../../files/points/open-points.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { failure, success } from '../../../records/outcome.js';
import type { EllipsoidStation } from '../../../records/points/point-join.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { ellipsoidStation } from '../../../tasks/bases/ellipsoid-station.js';
import { linesBetween } from '../../../tasks/join/join-lines.js';
import type { StationsOfFile } from '../../../tasks/join/join-lines.js';
import { joinOnEllipsoid } from '../../../tasks/join/join-on-ellipsoid.js';
import { measureOnEllipsoid } from '../../../tasks/join/measure-figures.js';
import { collectPoints } from '../../inputs/collect-points.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { recordPieces } from '../../outputs/record-writer.js';
import { createRejects } from '../../outputs/rejects.js';
import { textOption } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { ELLIPSOID_AREA_COLUMNS } from './area-columns.js';
import { ELLIPSOID_COLUMNS } from './join-columns.js';
import type { JoinAsked } from './join-mode.js';
import { figuresAsked, linesAsked } from './join-results.js';
import { ellipsoidAreaTable, ellipsoidLineTable } from './join-tables.js';
import type { JoinTable } from './join-tables.js';

/** Lines between points of a geographic system: the geodesic and what heights make of it, without a map. Problems stop the run. */
export async function runOnEllipsoid(
  { session: resolved, system }: { readonly session: ResolvedSession; readonly system: GeographicSystem },
  asked: JoinAsked,
  tables: TableOptions,
  bench: Workbench,
  log: RunLog,
): Promise<RunEnd> {
  const { invocation, context, diagnostics, format } = bench;
  const unfit = unfitOnEllipsoid(asked, textOption(invocation, 'report') !== null, system);
  if (unfit !== null) bench.take(failure(unfit));
  const wrongFrame = format === 'geojson' ? geojsonFrameProblem(system) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  bench.columns((asked.mode === 'area' ? ELLIPSOID_AREA_COLUMNS : ELLIPSOID_COLUMNS).map(({ name }) => name));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  log.session(resolved, diagnostics);
  const { geoid: model, interpolation, sigmaM, geoidFrame: statedFrame } = resolved.session.height;
  const choice = model === null ? null : { model, interpolation, sigmaM, statedFrame };
  const geoid =
    choice === null ? null : bench.take(await loadGeoid(choice, resolved.folder, system, resolved.reading)).geoid;
  log.models({ fixesSystem: system, grid: null, geoid }, diagnostics);
  log.method(METHODS[asked.mode === 'area' ? 'area' : 'lines']);

  const reading = { tables, grid: null, needs: { position: 'geographic', height: 'none' } } as const;
  const opened = bench.take(await openPoints(invocation.args[0] ?? '-', 0, reading, context));
  const stations: EllipsoidStation[] = [];
  const { rejected } = await collectPoints(opened, bench, tables.onError, rejects, (row: PointRow) => {
    const station = ellipsoidStation(row, geoid);
    if (station.ok) stations.push(station.value);
    return station.problems;
  });
  log.input(opened.source, opened.kind, stations.length, rejected);
  const geodesic = createGeodesic(system.ellipsoid);
  const of = { stations, source: opened.source.name };
  const table = await tableOf(asked, of, geodesic, bench, log);

  const sink = await bench.open(textOption(invocation, 'output') ?? '-');
  const name = system.code ?? system.name;
  const { columns, rows, schema, list } = table;
  const answered = rowsAnswer(rows.length, rejected);
  const head = {
    schema,
    list,
    members: { system: name, frame: name },
    summary: { ...answerJson(answered), [list]: rows.length },
  };
  for (const piece of recordPieces(format, columns, rows, head, csvWriteOptions(invocation))) await sink.write(piece);
  const [one, many] = asked.mode === 'area' ? ['area', 'areas'] : ['line', 'lines'];
  diagnostics.say(
    `${String(rows.length)} ${rows.length === 1 ? one : many} computed on the ellipsoid of ${system.name}, without a projection`,
  );
  return endWith(answered, invocation, log);
}

const METHODS = {
  lines: { id: 'join-geodesic', name: 'geodesic between points, elevation factor with the radius in the azimuth' },
  area: { id: 'area-geodesic', name: 'area inside geodesic sides, and at the mean height of the corners' },
} as const;

async function tableOf(
  asked: JoinAsked,
  of: StationsOfFile<EllipsoidStation>,
  geodesic: Geodesic,
  bench: Workbench,
  log: RunLog,
): Promise<JoinTable> {
  if (asked.mode === 'area')
    return ellipsoidAreaTable(bench.take(measureOnEllipsoid(figuresAsked(bench.invocation), of, geodesic)));
  const lines = await linesAsked(bench, log);
  const joined = linesBetween(lines, of, (from, to) => success(joinOnEllipsoid(from, to, geodesic)));
  return ellipsoidLineTable(bench.take(joined), asked.form);
}

/** What of a geographic system there is not, and why. */
function unfitOnEllipsoid(
  { mode, explain }: JoinAsked,
  hasReport: boolean,
  { code, name }: GeographicSystem,
): Problem | null {
  const why =
    mode === 'polar'
      ? '--polar sets points out by grid bearings and grid distances, and there is no grid'
      : explain
        ? '--explain works the reduction of a line to the grid through, and there is no grid'
        : hasReport
          ? '--report draws its plan on the grid, and there is no grid'
          : null;
  if (why === null) return null;
  return errorProblem('usage-conflict', {
    message: `${code ?? name} is no projected system: ${why}`,
    received: code ?? name,
    hint: 'name a projected system on the same datum with --system; lines and --area are computed on the ellipsoid without one',
  });
}
