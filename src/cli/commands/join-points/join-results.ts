import type { Outcome } from '../../../records/outcome.js';
import type { PointJoin } from '../../../records/points/point-join.js';
import { joinLines } from '../../../tasks/join/join-lines.js';
import type { LinesAsked } from '../../../tasks/join/join-lines.js';
import { measureFigures } from '../../../tasks/join/measure-figures.js';
import type { JoinedThings } from '../../../tasks/pages/join-report.js';
import { setOutPolars } from '../../../tasks/join/set-out-polars.js';
import { readSideTable } from '../../../files/tables/side-table.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import { readPairs } from '../../../io/tables/pairs-read.js';
import { readPolarLines } from '../../../io/tables/polar-read.js';
import { listOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import type { Workbench } from '../../shell/workbench.js';
import type { JoinAsked } from './join-mode.js';
import { areaTable, lineTable, polarTable } from './join-tables.js';
import type { JoinTable } from './join-tables.js';

/** The table of a run, and its lines, which may be worked through. */
export interface JoinResults {
  readonly table: JoinTable;
  readonly joins: readonly PointJoin[];
  /** What the table was made of, for a page. */
  readonly made: JoinedThings;
}

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
      return { table: lineTable(joins, setup.grid, form), joins, made: { mode: 'lines', joins } };
    }
    case 'polar': {
      const file = await readBeside(textOption(invocation, 'polar') ?? '-', readPolarLines, bench, log);
      const points = bench.take(setOutPolars(file.rows, file.name, loaded, setup));
      return { table: polarTable(points, setup.grid, form), joins: [], made: { mode: 'polar', points } };
    }
    case 'area': {
      const figures = bench.take(measureFigures(figuresAsked(invocation), loaded, setup));
      return { table: areaTable(figures), joins: [], made: { mode: 'area', figures } };
    }
  }
}

/** Which lines the options and the file of pairs ask for. */
export async function linesAsked(bench: Workbench, log: RunLog): Promise<LinesAsked> {
  const { invocation } = bench;
  const path = textOption(invocation, 'pairs');
  const fromId = textOption(invocation, 'from');
  if (path !== null) {
    const { rows: pairs, name: source } = await readBeside(path, readPairs, bench, log);
    return { kind: 'pairs', pairs, source };
  }
  return fromId === null ? { kind: 'consecutive' } : { kind: 'from', fromId, toId: textOption(invocation, 'to') };
}

/** The ids of the corners of each figure that is asked for. */
export function figuresAsked(invocation: Invocation): readonly (readonly string[])[] {
  return listOption(invocation, 'area').map(idsIn);
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
  const { source, rows } = bench.take(await readSideTable(path, (table) => read(table, 1), bench.context));
  log.input(source, 'csv', rows.length, 0);
  return { rows, name: source.name };
}
