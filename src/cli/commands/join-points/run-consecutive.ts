import { isUnchecked, uncheckedWarnings } from '../../../core/quality/unchecked-points.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { AngleForm } from '../../../io/tables/columns/cells/cell-text.js';
import { createRowByteWriter, NONE_CARRIED } from '../../../io/tables/row-bytes/row-bytes-write.js';
import { createCsvWriter } from '../../../io/csv/csv-write.js';
import { WAY } from '../../../io/host/way.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { PointJoin, Station } from '../../../records/points/point-join.js';
import { locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { checkedStation } from '../../../tasks/bases/stations.js';
import { noLineProblem } from '../../../tasks/join/join-lines.js';
import { createPointJoiner } from '../../../tasks/join/join-points.js';
import { eachPoint } from '../../inputs/collect-points.js';
import { openStations } from '../../inputs/station-load.js';
import type { OpenedStations } from '../../inputs/station-load.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { createRecordWriter } from '../../outputs/record-writer.js';
import type { Rejects } from '../../outputs/rejects.js';
import { flagOption, textOption } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { joinColumns } from './join-columns.js';
import type { JoinAsked } from './join-mode.js';
import { joinMethod, joinSummary } from './join-summary.js';
import type { JoinCounts } from './join-summary.js';
import { columnsOfMode } from './join-tables.js';

/** Whether lines can be written while points are read: each needs the point before only, and nothing asks for all of them. */
export function isStreamed({ explain }: JoinAsked, { invocation, format }: Workbench): boolean {
  // A JSON document says first how many lines there are.
  return (
    flagOption(invocation, 'consecutive') && !explain && format !== 'json' && textOption(invocation, 'report') === null
  );
}

/** Lines from each point to the next, each written when its end is read: memory does not grow with the file. */
export async function runConsecutive(
  asked: JoinAsked,
  tables: TableOptions,
  rejects: Rejects,
  bench: Workbench,
  log: RunLog,
): Promise<RunEnd> {
  const { invocation, diagnostics, format } = bench;
  const stations = await openStations(bench, log, tables, false, (known) => {
    bench.columns(columnsOfMode(asked.mode, known));
  });
  const { grid } = stations.setup;
  const wrongFrame = format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  log.method(joinMethod(asked.mode));
  const counts = await writeLines(asked, stations, tables, rejects, bench, log);
  for (const line of joinSummary(asked.mode, counts, grid)) diagnostics.say(line);
  return endWith(rowsAnswer(counts.made, counts.rejected), invocation, log);
}

async function writeLines(
  { form }: JoinAsked,
  { setup, opened }: OpenedStations,
  tables: TableOptions,
  rejects: Rejects,
  bench: Workbench,
  log: RunLog,
): Promise<JoinCounts> {
  const { invocation } = bench;
  const source = opened.source.name;
  const writer = lineWriter(setup.grid, form, bench);
  const sink = await bench.open(textOption(invocation, 'output') ?? '-');
  await sink.write(writer.begin());

  const accepts = flagOption(invocation, 'acceptPosition');
  const joinOf = createPointJoiner(setup);
  const problems: Problem[] = [];
  const unchecked: string[] = [];
  let [made, stations, withoutHeight, withoutPlace] = [0, 0, 0, 0];
  let before: Station | null = null;
  let station: Station | null = null;
  const rejected = await eachPoint(
    opened,
    bench,
    tables.onError,
    rejects,
    (row) => {
      const checked = checkedStation(row, setup, accepts);
      station = checked.station;
      return checked.problems;
    },
    (row) => {
      if (isUnchecked(row)) unchecked.push(row.pointId);
      if (station === null) {
        withoutPlace += 1;
        return;
      }
      stations += 1;
      const [from, to] = [before, station];
      before = station;
      if (from === null) return;
      const join = joinOf(from, to);
      for (const problem of join.problems) problems.push(locateProblem(problem, { source, line: to.place.line }));
      if (!join.ok) return;
      made += 1;
      if (join.value.meanHeightM === null) withoutHeight += 1;
      writer.add(join.value);
    },
    async () => {
      const written = writer.take();
      if (written.length > 0) await sink.write(written);
    },
  );
  bench.diagnostics.report(uncheckedWarnings(unchecked));
  log.input(opened.source, opened.kind, stations, rejected);
  if (stations < 2 && problems.length === 0) bench.take(failure(noLineProblem(stations, source)));
  bench.take(problems.some(({ severity }) => severity === 'error') ? failureOf(problems) : success(null, problems));
  await sink.write(writer.end());
  return { made, withoutHeight, withoutPlace, rejected };
}

/** Lines on their way out. */
interface LineWriter {
  readonly begin: () => string;
  readonly add: (join: PointJoin) => void;
  /** What was added since the last call; it holds until the next `add`. */
  readonly take: () => string | Uint8Array;
  readonly end: () => string;
}

function lineWriter(grid: GridSystem, form: AngleForm, { invocation, format }: Workbench): LineWriter {
  const columns = joinColumns(grid.southOrientated);
  const csv = csvWriteOptions(invocation);
  const cellsOf = createCellTexts(columns, form);
  if (format === 'csv' && form === 'degrees' && WAY !== 'general') {
    const names = columns.map(({ name }) => name);
    const table = { names, columns, carriedOf: () => NONE_CARRIED, cellsOf, marked: null };
    const { add, take } = createRowByteWriter<PointJoin>(table, csv);
    return { begin: createCsvWriter(names, csv).header, add, take, end: () => '' };
  }
  const members = { system: grid.code ?? grid.name, frame: grid.base.code ?? grid.base.name };
  const head = { schema: 'pegbook-joins', list: 'joins', members, summary: null };
  const { begin, row, end } = createRecordWriter(format, cellColumns(columns, form), head, csv);
  let texts: string[] = [];
  return {
    begin,
    add(join) {
      texts.push(row({ cells: cellsOf(join), geometry: { kind: 'lines', lines: [[join.from, join.to]] } }));
    },
    take() {
      const written = texts.join('');
      texts = [];
      return written;
    },
    end,
  };
}
