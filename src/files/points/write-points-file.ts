import { tmpdir } from 'node:os';
import { extname, resolve } from 'node:path';
import { Writable } from 'node:stream';
import { carriedNames } from '../../io/tables/columns/carried-names.js';
import { DEFAULT_CSV_WRITE } from '../../io/csv/csv-write.js';
import { openSink } from '../../io/bytes/output/sink.js';
import type { Sink } from '../../io/bytes/output/sink.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { isParquetName } from '../../io/parquet/parquet-name.js';
import { pointColumns } from '../../io/tables/points/point-columns.js';
import type { AxisNames } from '../../io/tables/points/point-row-columns.js';
import type { PointVerdict, ReducedPoint } from '../../records/points/reduced-point.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { RunAnswer } from '../../records/runs/run-answer.js';
import { reductionAnswer } from '../../tasks/reduce/totals/reduction-answer.js';
import { answerJson } from '../../io/documents/answer-json.js';
import { createPointsWriter, pointsFrame } from './points-writer.js';
import type { OutputFormat } from './points-writer.js';
import type { Reduction } from '../reduction/prepare-reduction.js';
import { writtenNames } from './written-names.js';

/** How a file of points is written. */
export interface PointsFileOptions {
  /** Names of the columns that the points carry from their one input; none: what they carry is not written. */
  readonly passThroughNames?: readonly string[];
  /** Overwrite an existing file. */
  readonly force?: boolean;
}

/** The answer that points give by themselves. */
function answerOf(points: readonly ReducedPoint[]): RunAnswer {
  const counts: Record<PointVerdict, number> = { accepted: 0, review: 0, rejected: 0 };
  const reasons = new Map<ProblemCode, number>();
  for (const { verdict, reasons: codes } of points) {
    counts[verdict] += 1;
    for (const code of codes) reasons.set(code, (reasons.get(code) ?? 0) + 1);
  }
  return reductionAnswer({ points: counts, reasons }, 0);
}

const FORMATS: ReadonlyMap<string, OutputFormat> = new Map([
  ['.geojson', 'geojson'],
  ['.json', 'json'],
  ['.jsonl', 'jsonl'],
]);

/**
 * Writes reduced points as the command does: GeoJSON, JSON, rows of JSON or Parquet by the extension of the name, else CSV.
 *
 * Given: a path, from the working folder; the points in the order they are to stand in; the reduction that made them. The file
 * appears whole or not at all. Returned: null. Problems: file-output-exists unless forced; file-output-unwritable, also for a file
 * that was read; file-write-failed; parquet-package-missing; usage-conflict for names of carried columns where the reduction has several files.
 *
 * @example
 * const written = await writePointsFile('points.csv', points, reduction, { passThroughNames: fixes.passThroughNames });
 * if (!written.ok) console.error(written.problems);
 */
export async function writePointsFile(
  path: string,
  points: readonly ReducedPoint[],
  { setup, session, paths }: Reduction,
  options: PointsFileOptions = {},
): Promise<Outcome<null>> {
  if (paths.length > 1 && options.passThroughNames !== undefined) {
    return failure(
      errorProblem('usage-conflict', {
        message: 'points of several files may carry different columns, and one list of names is given for all',
        hint: 'write the points of each file by themselves, or leave passThroughNames out',
      }),
    );
  }
  const format = FORMATS.get(extname(path).toLowerCase()) ?? 'csv';
  const gridPair = [setup.grid.axes[0].columnName, setup.grid.axes[1].columnName] as const;
  const own = writtenNames(format, pointColumns(gridPair));
  // Absent: nothing passes through.
  const { names } = carriedNames(own, options.passThroughNames ?? []);
  const writer = createPointsWriter(
    format,
    gridPair,
    names,
    pointsFrame(setup, session.session.system?.epochYear ?? null),
    DEFAULT_CSV_WRITE,
  );
  const opened = await openSink(path, {
    cwd: process.cwd(),
    stdout: new Writable(),
    tempDir: tmpdir(),
    force: options.force ?? false,
    inputs: paths.map((input) => resolve(input)),
  });
  if (!opened.ok) return opened;
  const sink = opened.value;
  await sink.write(writer.begin());
  for (const point of points) {
    writer.add(names.length === 0 ? { ...point, passThrough: [] } : point);
    await sink.write(writer.take());
  }
  await sink.write(writer.end(answerJson(answerOf(points))));
  const changed = isParquetName(path) ? await toParquet(sink, gridPair) : success(null);
  const finished = changed.ok ? await sink.finish() : changed;
  const written = finished.ok ? await sink.commit() : finished;
  if (written.ok) return success(null);
  await sink.abort();
  return written;
}

/** Makes Parquet of the CSV that was written. Problems: those of `parquetChange`. */
async function toParquet(sink: Sink, gridPair: AxisNames): Promise<Outcome<null>> {
  const { parquetChange } = await import('../../io/parquet/parquet-write.js');
  const known = new Map(pointColumns(gridPair).map((column) => [column.name, column]));
  const parquet = await parquetChange(sink.name, (name) => known.get(name) ?? null);
  if (!parquet.ok) return parquet;
  await sink.rewrite(parquet.value.change);
  const problem = parquet.value.problem();
  return problem === null ? success(null) : failure(problem);
}
