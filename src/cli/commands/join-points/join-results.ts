import type { Outcome } from '../../../records/outcome.js';
import type { PointJoin } from '../../../records/points/point-join.js';
import { joinLines } from '../../../tasks/join/join-lines.js';
import type { LinesAsked } from '../../../tasks/join/join-lines.js';
import { measureFigures } from '../../../tasks/join/measure-figures.js';
import { setOutPolars } from '../../../tasks/join/set-out-polars.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import type { CsvDialect } from '../../../io/csv/csv-dialect.js';
import { readPairs } from '../../../io/tables/pairs-read.js';
import { readPolarLines } from '../../../io/tables/polar-read.js';
import { openSource } from '../../../io/bytes/source.js';
import { listOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import type { Workbench } from '../../shell/workbench.js';
import type { JoinAsked } from './join-mode.js';
import { areaTable, lineTable, polarTable } from './join-tables.js';
import type { JoinTable } from './join-tables.js';

/** The table of a run, and its lines, which may be worked through. */
export interface JoinResults {
  readonly table: JoinTable;
  readonly joins: readonly PointJoin[];
}

/** Tables beside the points are plain CSV: their form is ours. */
const PLAIN: CsvDialect = { delimiter: ',', comment: null, skipLines: 0, hasHeader: true, decimalComma: false };

/** Computes what is asked for. Problems stop the run. */
export async function joinResults(
  { mode, form }: JoinAsked,
  loaded: LoadedStations,
  bench: Workbench,
  log: RunLog,
): Promise<JoinResults> {
  const { invocation } = bench;
  const { setup } = loaded;
  switch (mode) {
    case 'lines': {
      const joins = bench.take(joinLines(await linesAsked(bench, log), loaded, setup));
      return { table: lineTable(joins, setup.grid, form), joins };
    }
    case 'polar': {
      const file = await readBeside(textOption(invocation, 'polar') ?? '-', readPolarLines, bench, log);
      const points = bench.take(setOutPolars(file.rows, file.name, loaded, setup));
      return { table: polarTable(points, setup.grid, form), joins: [] };
    }
    case 'area': {
      const figures = listOption(invocation, 'area').map(idsIn);
      return { table: areaTable(bench.take(measureFigures(figures, loaded, setup))), joins: [] };
    }
  }
}

async function linesAsked(bench: Workbench, log: RunLog): Promise<LinesAsked> {
  const { invocation } = bench;
  const path = textOption(invocation, 'pairs');
  const fromId = textOption(invocation, 'from');
  if (path !== null) {
    const { rows: pairs, name: source } = await readBeside(path, readPairs, bench, log);
    return { kind: 'pairs', pairs, source };
  }
  return fromId === null ? { kind: 'consecutive' } : { kind: 'from', fromId, toId: textOption(invocation, 'to') };
}

function idsIn(text: string): readonly string[] {
  return text
    .split(',')
    .map((id) => id.trim())
    .filter((id) => id !== '');
}

/** Reads a table beside the points whole, and notes it in the record of the run. */
async function readBeside<Row>(
  path: string,
  read: (table: CsvTable, sourceIndex: number) => Promise<Outcome<readonly Row[]>>,
  bench: Workbench,
  log: RunLog,
): Promise<{ readonly rows: readonly Row[]; readonly name: string }> {
  const { cwd, stdin } = bench.context;
  const source = bench.take(await openSource(path, { cwd, stdin, encoding: null }));
  const rows = bench.take(await read(bench.take(await readCsv(source, PLAIN)), 1));
  log.input(source, 'csv', rows.length, 0);
  return { rows, name: source.name };
}
