import { resolve } from 'node:path';
import { failure } from '../../../records/outcome.js';
import type { PointJoin } from '../../../records/points/point-join.js';
import { errorProblem } from '../../../records/problem.js';
import { explainJoin } from '../../../tasks/explain/explain-join.js';
import { workingText } from '../../../tasks/explain/explain-point.js';
import { flagOption, isGiven, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { AREA_COLUMNS } from './area-columns.js';
import { joinColumns, polarColumns } from './join-columns.js';
import { areasAsked, linesAsked, polarsAsked } from './join-requests.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cell-text.js';
import type { AngleForm } from '../../../io/tables/columns/cell-text.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { RecordColumn, WrittenRecord } from '../../outputs/record-writer.js';
import { createRejects } from '../../outputs/rejects.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { loadStations } from '../../inputs/station-load.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { StopError } from '../../shell/stop.js';
import { tableOptions } from '../../inputs/table-options.js';
import { withoutPlaceLine } from '../../outputs/without-place-line.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';

type Mode = 'lines' | 'polar' | 'area';

/** Joins points; see `joinPointsSpec`. */
export const runJoinPoints: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'geoid', 'pairs', 'polar']);
  const inputs = [...invocation.args.filter((path) => path !== '-'), ...sidecars].map((path) =>
    resolve(context.cwd, path),
  );
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => run(bench, log), log.failure);
};

async function run(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const mode = modeOf(invocation);
  const form: AngleForm = textOption(invocation, 'angles') === 'dms' ? 'dms' : 'degrees';
  const explain = flagOption(invocation, 'explain');
  if (form === 'dms' && bench.format === 'geojson')
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: 'GeoJSON holds decimal degrees',
          hint: 'leave out --angles dms, or write CSV',
        }),
      ),
    );
  if (explain && mode !== 'lines')
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: '--explain works lines through, not points or areas',
          hint: 'give it with --from, --pairs or --consecutive',
        }),
      ),
    );
  const tables = bench.take(tableOptions(invocation, {}));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const loaded = await loadStations(bench, log, tables, rejects);
  const { grid } = loaded.setup;
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  log.method({
    id: `join-${mode}`,
    name: METHODS[mode],
    source: { key: 'GDA2020-TM', locator: 'docs/methods/join.md' },
  });

  const output = textOption(invocation, 'output');
  const sink = explain && output === null ? null : await bench.open(output ?? '-');
  const working = explain ? await bench.open('-') : null;
  const { columns, rows, joins, schema, list } = await answer(mode, loaded, form, bench, log);
  if (diagnostics.errorCount() > loaded.reported) throw new StopError([]);
  const members = { system: grid.code ?? grid.name, frame: grid.base.code ?? grid.base.name };
  if (sink !== null)
    for (const piece of recordPieces(
      bench.format,
      columns,
      rows,
      { schema, list, members },
      csvWriteOptions(invocation),
    ))
      await sink.write(piece);
  for (const join of joins)
    await working?.write(workingText(`Line from ${join.from.pointId} to ${join.to.pointId}`, explainJoin(join, grid)));
  for (const line of summary(mode, rows.length, joins, loaded)) diagnostics.say(line);
  return endWith(rowsAnswer(rows.length, loaded.rejected), invocation, log);
}

const METHODS: Readonly<Record<Mode, string>> = {
  lines:
    'join between points: geodesic, straight grid line, line scale factor by Simpson, elevation factor with the radius in the azimuth',
  polar: 'point from a direction and a distance',
  area: 'area of a closed figure: on the grid, of the geodesic polygon, at the mean height',
};

interface Answer {
  readonly columns: readonly RecordColumn[];
  readonly rows: readonly WrittenRecord[];
  readonly joins: readonly PointJoin[];
  readonly schema: string;
  readonly list: string;
}

async function answer(
  mode: Mode,
  loaded: LoadedStations,
  form: AngleForm,
  bench: Workbench,
  log: RunLog,
): Promise<Answer> {
  const { grid } = loaded.setup;
  switch (mode) {
    case 'lines': {
      const joins = await linesAsked(loaded, bench, log);
      const columns = joinColumns(grid.southOrientated);
      const cellsOf = createCellTexts(columns, form);
      const rows = joins.map((join): WrittenRecord => ({
        cells: cellsOf(join),
        geometry: { kind: 'lines', lines: [[join.from, join.to]] },
      }));
      return { columns: cellColumns(columns, form), rows, joins, schema: 'pegbook-joins', list: 'joins' };
    }
    case 'polar': {
      const points = await polarsAsked(loaded, bench, log);
      const columns = polarColumns(grid);
      const cellsOf = createCellTexts(columns, form);
      const rows = points.map((polar): WrittenRecord => ({
        cells: cellsOf(polar),
        geometry: { kind: 'point', place: polar.point, ellipsoidalHeightM: polar.point.ellipsoidalHeightM },
      }));
      return { columns: cellColumns(columns, form), rows, joins: [], schema: 'pegbook-polar-points', list: 'points' };
    }
    case 'area': {
      const areas = areasAsked(loaded, bench);
      const cellsOf = createCellTexts(AREA_COLUMNS);
      const rows = areas.map(({ area, corners }): WrittenRecord => {
        const ring = area.isClockwise ? [...corners].reverse() : corners;
        return { cells: cellsOf(area), geometry: { kind: 'areas', rings: [[...ring, ...ring.slice(0, 1)]] } };
      });
      return { columns: cellColumns(AREA_COLUMNS), rows, joins: [], schema: 'pegbook-areas', list: 'areas' };
    }
  }
}

/** What is asked for, from the options; exactly one thing. */
function modeOf(invocation: Invocation): Mode {
  const asked: (readonly [string, Mode])[] = [];
  if (textOption(invocation, 'from') !== null) asked.push(['--from', 'lines']);
  if (textOption(invocation, 'pairs') !== null) asked.push(['--pairs', 'lines']);
  if (flagOption(invocation, 'consecutive')) asked.push(['--consecutive', 'lines']);
  if (textOption(invocation, 'polar') !== null) asked.push(['--polar', 'polar']);
  if (isGiven(invocation, 'area')) asked.push(['--area', 'area']);
  const [only, another] = asked;
  if (textOption(invocation, 'to') !== null && textOption(invocation, 'from') === null) {
    throw new StopError([
      errorProblem('usage-conflict', { message: '--to needs --from', hint: 'for example --from A --to B' }),
    ]);
  }
  if (only === undefined) {
    throw new StopError([
      errorProblem('usage-invalid', {
        message: 'nothing is asked for',
        hint: 'give --from ID [--to ID], --pairs FILE, --consecutive, --polar FILE or --area ID,ID,ID',
      }),
    ]);
  }
  if (another !== undefined)
    throw new StopError([
      errorProblem('usage-conflict', {
        message: `${only[0]} and ${another[0]} exclude each other`,
        hint: 'run the command once for each',
      }),
    ]);
  return only[1];
}

function summary(mode: Mode, count: number, joins: readonly PointJoin[], loaded: LoadedStations): readonly string[] {
  const word = { lines: 'line', polar: 'point', area: 'area' }[mode];
  const lines = [`${count} ${word}${count === 1 ? '' : 's'} computed in ${loaded.setup.grid.name}`];
  const without = joins.filter((join) => join.meanHeightM === null).length;
  if (without > 0)
    lines.push(
      `${without} ${without === 1 ? 'line has' : 'lines have'} no ground or slope distance: an ellipsoidal height is not known (give it, or orthometric heights and --geoid)`,
    );
  if (loaded.withoutPlace > 0) lines.push(withoutPlaceLine(loaded.withoutPlace));
  if (loaded.rejected > 0) lines.push(`${loaded.rejected} rows with errors were left out on request`);
  return lines;
}
