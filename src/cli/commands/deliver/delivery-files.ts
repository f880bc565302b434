import { basename, extname, resolve } from 'node:path';
import type { ChosenOutputs } from '../../../files/delivery/choose-outputs.js';
import type { VerifiedJob } from '../../../files/ledger/verify-job.js';
import type { BagFile } from '../../../io/bag/bag.js';
import { folderSink } from '../../../io/bag/folder-sink.js';
import { zipOf } from '../../../io/bag/zip-write.js';
import { openSource } from '../../../io/bytes/source.js';
import type { Source } from '../../../io/bytes/source.js';
import { DEFAULT_DIALECT } from '../../../io/csv/csv-dialect.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import { openGeojsonTable } from '../../../io/geojson/geojson-table.js';
import { failure } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { flagOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { readCoordinateList } from './coordinate-list.js';
import type { CoordinateList } from './coordinate-list.js';

/** The points to deliver, as their file has them. Problems stop the run. */
export async function pointsOf(
  bench: Workbench,
  { folder }: VerifiedJob,
  { points }: ChosenOutputs,
  log: RunLog,
): Promise<CoordinateList> {
  const { cwd, stdin } = bench.context;
  const source = bench.take(await openSource(resolve(folder, points.name), { cwd, stdin }));
  const list = bench.take(await readCoordinateList(bench.take(await tableOf(source))));
  if (source.digest().sha256 !== points.sha256)
    bench.take(
      failure(errorProblem('file-changed', { message: 'changed while it was read', where: { source: points.name } })),
    );
  log.input(source, 'points', list.rows.length, 0);
  return list;
}

/** The points as a table of text, digits kept. */
async function tableOf(source: Source): Promise<Outcome<CsvTable>> {
  if (extname(source.name).toLowerCase() !== '.geojson') return readCsv(source, DEFAULT_DIALECT);
  return openGeojsonTable(source, 'allowed');
}

/** Writes the bag: a ZIP file by the ending of its name, else a folder. */
export async function writeDelivery(bench: Workbench, output: string, files: readonly BagFile[]): Promise<void> {
  if (extname(output).toLowerCase() !== '.zip') {
    await bench.add(
      bench.take(await folderSink(output, bench.context.cwd, files, flagOption(bench.invocation, 'force'))),
    );
    return;
  }
  const top = basename(output).slice(0, -'.zip'.length);
  const sink = await bench.open(output);
  for (const piece of bench.take(zipOf(files.map(({ path, bytes }) => ({ path: `${top}/${path}`, bytes })))))
    await sink.write(piece);
}
