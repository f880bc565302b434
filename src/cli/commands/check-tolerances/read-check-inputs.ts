import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { sameAxes } from '../../../files/check/same-axes.js';
import { openPoints } from '../../../files/points/open-points.js';
import type { PointInput } from '../../../io/tables/points/points-read.js';
import type { NamedPoints } from '../../../tasks/check/check-points.js';
import { collectPackedPoints } from '../../inputs/collect-points.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { createRejects } from '../../outputs/rejects.js';
import type { Rejects } from '../../outputs/rejects.js';
import { textOption } from '../../shell/command-spec.js';
import { otherTables } from './options/other-tables.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** Points of a file, and the file as it was opened. */
export interface ReadPoints extends NamedPoints {
  readonly input: PointInput;
  /** Rows with errors that were left out. */
  readonly rejected: number;
}

/** The points that are checked, and what they are checked against; null: not named. */
export interface CheckInputs {
  readonly measured: ReadPoints;
  readonly control: ReadPoints | null;
  readonly design: ReadPoints | null;
}

/** Rows with errors that were left out of all of them. */
export function rowsSkipped(inputs: CheckInputs | null): number {
  const files = inputs === null ? [] : [inputs.measured, inputs.control, inputs.design];
  return files.reduce((sum, read) => sum + (read === null ? 0 : read.rejected), 0);
}

/** Reads the files of a check. Stops the run where one cannot be read, or two without a system have other axes. */
export async function readCheckInputs(
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
  grid: GridSystem | null,
): Promise<CheckInputs> {
  const rejectsPath = textOption(bench.invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  // Without a name it is standard input.
  const path = bench.invocation.args[0] ?? '-';
  const measured = await readPoints(path, 'points', tables, rejects, grid, bench, log);
  const other = async (kind: 'control' | 'design'): Promise<ReadPoints | null> => {
    const name = textOption(bench.invocation, kind);
    if (name === null) return null;
    const read = await readPoints(name, kind, bench.take(otherTables(bench, kind)), null, grid, bench, log);
    if (grid === null) bench.take(sameAxes(measured, read));
    return read;
  };
  return { measured, control: await other('control'), design: await other('design') };
}

/** `rejects`: of the points that are checked, which need a position; control and design may have a height alone. */
async function readPoints(
  path: string,
  kind: 'points' | 'control' | 'design',
  tables: TableOptions,
  rejects: Rejects | null,
  grid: GridSystem | null,
  bench: Workbench,
  log: RunLog,
): Promise<ReadPoints> {
  const isMain = kind === 'points';
  const needs = { position: isMain ? 'any' : 'none', height: 'none' } as const;
  const opened = bench.take(
    await openPoints(path, isMain ? 0 : 1, { tables, grid, needs, areReduced: isMain }, bench.context),
  );
  const { source, input } = opened;
  const { points, rejected } = await collectPackedPoints(opened, bench, tables.onError, rejects);
  log.input(source, kind, points.length, rejected);
  return { points, name: source.name, input, rejected };
}
