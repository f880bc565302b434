import { createGeodesic } from '../../../core/ellipsoid/geodesic.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { loadGeoid } from '../../../files/load-geoid.js';
import { openPoints } from '../../../files/points/open-points.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cell-text.js';
import { failure, success } from '../../../records/outcome.js';
import type { EllipsoidStation } from '../../../records/points/point-join.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem } from '../../../records/problem.js';
import { ellipsoidStation } from '../../../tasks/bases/ellipsoid-station.js';
import { linesBetween } from '../../../tasks/join/join-lines.js';
import { joinOnEllipsoid } from '../../../tasks/join/join-on-ellipsoid.js';
import { collectPoints } from '../../inputs/collect-points.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { WrittenRecord } from '../../outputs/record-writer.js';
import { createRejects } from '../../outputs/rejects.js';
import { textOption } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import type { RunLog } from '../../shell/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { ELLIPSOID_COLUMNS } from './join-columns.js';
import type { JoinAsked } from './join-mode.js';
import { linesAsked } from './join-results.js';

/** Lines between points of a geographic system: the geodesic and what heights make of it, without a map. Problems stop the run. */
export async function runOnEllipsoid(
  { session: resolved, system }: { readonly session: ResolvedSession; readonly system: GeographicSystem },
  asked: JoinAsked,
  tables: TableOptions,
  bench: Workbench,
  log: RunLog,
): Promise<RunEnd> {
  const { invocation, context, diagnostics, format } = bench;
  if (asked.mode !== 'lines' || asked.explain || textOption(invocation, 'report') !== null)
    bench.take(failure(needsGrid(system)));
  const wrongFrame = format === 'geojson' ? geojsonFrameProblem(system) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  bench.columns(ELLIPSOID_COLUMNS.map(({ name }) => name));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  log.session(resolved, diagnostics);
  const { geoid: model, interpolation, sigmaM, geoidFrame: statedFrame } = resolved.session.height;
  const choice = model === null ? null : { model, interpolation, sigmaM, statedFrame };
  const geoid =
    choice === null ? null : bench.take(await loadGeoid(choice, resolved.folder, system, resolved.reading)).geoid;
  log.models({ fixesSystem: system, grid: null, geoid });
  log.method({ id: 'join-geodesic', name: 'geodesic between points, elevation factor with the radius in the azimuth' });

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
  const joins = bench.take(
    linesBetween(await linesAsked(bench, log), of, (from, to) => success(joinOnEllipsoid(from, to, geodesic))),
  );

  const sink = await bench.open(textOption(invocation, 'output') ?? '-');
  const cellsOf = createCellTexts(ELLIPSOID_COLUMNS, asked.form);
  const rows = joins.map((join): WrittenRecord => ({
    cells: cellsOf(join),
    geometry: { kind: 'lines', lines: [[join.from, join.to]] },
  }));
  const name = system.code ?? system.name;
  const answered = rowsAnswer(rows.length, rejected);
  const summary = { ...answerJson(answered), joins: rows.length };
  const head = { schema: 'pegbook-joins', list: 'joins', members: { system: name, frame: name }, summary };
  const columns = cellColumns(ELLIPSOID_COLUMNS, asked.form);
  for (const piece of recordPieces(format, columns, rows, head, csvWriteOptions(invocation))) await sink.write(piece);
  diagnostics.say(
    `${String(rows.length)} line${rows.length === 1 ? '' : 's'} computed on the ellipsoid of ${system.name}, without a projection`,
  );
  return endWith(answered, invocation, log);
}

function needsGrid({ code, name }: GeographicSystem) {
  return errorProblem('usage-conflict', {
    message: `${code ?? name} is no projected system, and has lines on the ellipsoid alone`,
    hint: 'for --polar, --area, --explain and --report name a projected system with --system',
  });
}
