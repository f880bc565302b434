import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { basename, extname, resolve } from 'node:path';
import { chooseOutputs } from '../../../files/delivery/choose-outputs.js';
import type { ChosenOutputs } from '../../../files/delivery/choose-outputs.js';
import { gatherFiles } from '../../../files/delivery/gather-files.js';
import { verifyJob } from '../../../files/ledger/verify-job.js';
import type { VerifiedJob } from '../../../files/ledger/verify-job.js';
import { loadJob } from '../../../files/job/load-job.js';
import type { JobInPlace } from '../../../files/job/load-job.js';
import { loadGeographicSystem } from '../../../files/load-systems.js';
import { bagOf } from '../../../io/bag/bag.js';
import type { BagFile } from '../../../io/bag/bag.js';
import { folderSink } from '../../../io/bag/folder-sink.js';
import { zipOf } from '../../../io/bag/zip-write.js';
import { openSource } from '../../../io/bytes/source.js';
import { DEFAULT_DIALECT } from '../../../io/csv/csv-dialect.js';
import { readCsv } from '../../../io/csv/csv-read.js';
import { DEFAULT_CSV_WRITE } from '../../../io/csv/csv-write.js';
import { LEDGER_NAME } from '../../../io/ledger/ledger-line.js';
import { failure, failureOf } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { FinishedRun } from '../../../records/finished-run.js';
import { entryAt, present } from '../../../records/present.js';
import { frontSheet } from '../../../report/delivery/front-sheet.js';
import { recordFacts } from '../../../tasks/delivery/record-facts.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { flagOption, listOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import type { RunLog } from '../../shell/run-log.js';
import { coordinateFacts, coordinateText, readCoordinateList } from './coordinate-list.js';
import type { CoordinateList } from './coordinate-list.js';
import { checksOf, deliveryReport, recordOf } from './delivery-sheet.js';
import { digestsText } from './digests-text.js';

/** Puts a delivery together; see `deliverSpec`. */
export const runDeliver: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const job = textOption(invocation, 'job');
  const inputs = job === null ? [] : [resolve(context.cwd, job)];
  return withWorkbench(invocation, context, inputs, (bench) => deliver(bench, log), log.failure);
};

async function deliver(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  const job = needed(bench, 'job', '--job', 'job.toml');
  const output = needed(bench, 'output', '--output', 'a folder, or a file that ends in .zip');
  if (output === '-')
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: 'a delivery is many files, and --output says standard output',
          hint: 'name a folder, or a file that ends in .zip',
        }),
      ),
    );
  const verified = unchanged(bench, bench.take(await verifyJob(job, context.cwd, null)));
  const chosen = bench.take(
    chooseOutputs(verified, textOption(invocation, 'points'), listOption(invocation, 'files'), context.cwd),
  );
  const inPlace = bench.take(await loadJob(job, context.cwd));
  log.job(inPlace);
  const record = await recordOf(bench, verified.folder, chosen.record);
  const list = await pointsOf(bench, verified, chosen, log);
  const files = bagOf(await payloadOf(bench, { inPlace, verified, chosen, record, list }), [
    ['External-Description', inPlace.job.title ?? basename(job)],
    ['Bagging-Date', entryAt(verified.lines, verified.lines.length - 1).timeUtc.slice(0, 10)],
  ]);
  await writeDelivery(bench, output, files);
  diagnostics.say(
    `${String(list.rows.length)} occupations and ${String(files.length)} files delivered; digest of the last line of the ledger: ${present(verified.lines.at(-1), 'a line of the run that wrote the points').statedSha256}`,
  );
  // A delivery is no run of the job: its ledger is part of what is delivered, and the same job gives the same bytes.
  const { exit, record: text, reasons } = endWith(rowsAnswer(list.rows.length, 0), invocation, log);
  return { exit, record: text, reasons };
}

function needed(bench: Workbench, name: 'job' | 'output', flag: string, expected: string): string {
  const value = textOption(bench.invocation, name);
  return bench.take(
    value === null
      ? failure(
          errorProblem('usage-invalid', { message: `${flag} is needed`, expected, hint: `give ${flag} ${expected}` }),
        )
      : { ok: true, value, problems: [] },
  );
}

/** The job, or the end of the run where it is not as its ledger says. */
function unchanged(bench: Workbench, job: VerifiedJob): VerifiedJob {
  if (job.changes.length === 0) return job;
  return bench.take(
    failureOf(
      job.changes.map(({ code, line, name, said }) =>
        errorProblem(code, {
          message: said,
          where: name === null ? { source: job.ledger, ...(line !== null && { line }) } : { source: name },
          hint: 'nothing is delivered until verify-job finds nothing',
        }),
      ),
    ),
  );
}

async function pointsOf(
  bench: Workbench,
  { folder }: VerifiedJob,
  { points }: ChosenOutputs,
  log: RunLog,
): Promise<CoordinateList> {
  const { cwd, stdin } = bench.context;
  const source = bench.take(await openSource(resolve(folder, points.name), { cwd, stdin }));
  const list = bench.take(await readCoordinateList(bench.take(await readCsv(source, DEFAULT_DIALECT))));
  if (source.digest().sha256 !== points.sha256)
    bench.take(
      failure(errorProblem('file-changed', { message: 'changed while it was read', where: { source: points.name } })),
    );
  log.input(source, 'points', list.rows.length, 0);
  return list;
}

interface DeliveryParts {
  readonly inPlace: JobInPlace;
  readonly verified: VerifiedJob;
  readonly chosen: ChosenOutputs;
  readonly record: FinishedRun;
  readonly list: CoordinateList;
}

async function payloadOf(
  bench: Workbench,
  { inPlace, verified, chosen, record, list }: DeliveryParts,
): Promise<readonly BagFile[]> {
  const csv = DEFAULT_CSV_WRITE;
  const { points, others } = chosen;
  // A record without a frame names none, and no map is made of it: see `mapProblem`.
  const frame = recordFacts(record).systems.find(({ name }) => name === 'fixes')?.value ?? '';
  const coordinates = coordinateText(list, 'csv', frame, csv);
  const noMap = mapProblem(frame);
  const files = bench.take(
    await gatherFiles(verified.folder, [points, chosen.record, ...others.map(({ output }) => output)]),
  );
  const report = deliveryReport(
    inPlace,
    verified,
    record,
    coordinateFacts(list),
    await checksOf(bench, verified, chosen),
    {
      notes: noMap === null ? [] : [`No GeoJSON: ${noMap}.`],
      coordinatesSha256: createHash('sha256').update(coordinates, 'utf8').digest('hex'),
    },
  );
  return [
    { path: 'front-sheet.html', bytes: text(frontSheet(report)) },
    { path: 'coordinates.csv', bytes: text(coordinates) },
    ...(noMap === null
      ? [{ path: 'coordinates.geojson', bytes: text(coordinateText(list, 'geojson', frame, csv)) }]
      : []),
    { path: 'digests.csv', bytes: text(digestsText(verified.standing, csv)) },
    ...files,
    { path: LEDGER_NAME, bytes: verified.ledgerBytes },
  ];
}

/** Why the positions are not for GeoJSON, in words; null: they are. Given: the frame as a record names it. */
function mapProblem(frame: string): string | null {
  const code = /^EPSG:\d+/u.exec(frame)?.[0];
  if (code === undefined) return 'the frame of latitude and longitude has no code to be known by';
  const system = loadGeographicSystem(code);
  return system.ok ? (geojsonFrameProblem(system.value)?.message ?? null) : `${code} is not known`;
}

/** Writes the bag: a ZIP file by the ending of its name, else a folder. */
async function writeDelivery(bench: Workbench, output: string, files: readonly BagFile[]): Promise<void> {
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

function text(content: string): Uint8Array {
  return Buffer.from(content, 'utf8');
}
