import { basename, resolve } from 'node:path';
import { chooseOutputs } from '../../../files/delivery/choose-outputs.js';
import { deliveredRecord } from '../../../files/delivery/delivery-sheet.js';
import { loadJob } from '../../../files/job/load-job.js';
import { unchangedJob } from '../../../files/ledger/unchanged-job.js';
import { bagOf } from '../../../io/bag/bag.js';
import { entryAt, present } from '../../../records/present.js';
import { listOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { pointsOf, writeDelivery } from './delivery-files.js';
import { deliveryAsked } from './delivery-options.js';
import { payloadOf } from './payload.js';

/** Puts a delivery together; see `deliverSpec`. */
export const runDeliver: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const job = textOption(invocation, 'job');
  const inputs = job === null ? [] : [resolve(context.cwd, job)];
  return withWorkbench(invocation, context, inputs, (bench) => deliver(bench, log), log.failure);
};

async function deliver(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  const { job, output } = deliveryAsked(bench);
  const verified = bench.take(await unchangedJob(job, context.cwd));
  const chosen = bench.take(
    chooseOutputs(verified, textOption(invocation, 'points'), listOption(invocation, 'files'), context.cwd),
  );
  const inPlace = bench.take(await loadJob(job, context.cwd));
  log.job(inPlace);
  const record = bench.take(await deliveredRecord(verified.folder, chosen.record));
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
