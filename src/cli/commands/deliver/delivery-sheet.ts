import type { JobInPlace } from '../../../files/job/load-job.js';
import { readAsWritten } from '../../../files/delivery/gather-files.js';
import type { ChosenOutputs } from '../../../files/delivery/choose-outputs.js';
import type { VerifiedJob } from '../../../files/ledger/verify-job.js';
import { readRunRecord } from '../../../io/documents/run-record-read.js';
import type { LedgerLine, LedgerOutput } from '../../../records/ledger.js';
import type { FinishedRun } from '../../../records/finished-run.js';
import type { DeliveryCheck, DeliveryReport } from '../../../records/reports/delivery-report.js';
import { VERSION } from '../../../records/version.js';
import { checkFacts, recordFacts } from '../../../tasks/delivery/record-facts.js';
import type { Workbench } from '../../shell/workbench.js';
import { entryAt } from '../../../records/present.js';
import type { CoordinateFacts } from './coordinate-list.js';

/** Commands that say whether coordinates are right. */
const CHECKING: readonly string[] = ['check-tolerances', 'adjust-network', 'fit-site'];

/** The record of a run, from the file it was written to. */
export async function recordOf(bench: Workbench, folder: string, output: LedgerOutput): Promise<FinishedRun> {
  const bytes = bench.take(await readAsWritten(folder, output));
  return bench.take(readRunRecord(new TextDecoder().decode(bytes), output.name));
}

/** The checks that are part of a delivery: of each run one. */
export async function checksOf(
  bench: Workbench,
  { lines, folder }: VerifiedJob,
  { others }: ChosenOutputs,
): Promise<readonly DeliveryCheck[]> {
  const runs = lines.filter((line) => CHECKING.includes(line.command) && others.some((other) => other.line === line));
  const checks: DeliveryCheck[] = [];
  for (const line of runs) {
    const output = others.find((other) => other.line === line && other.output.role === 'record')?.output;
    const record = output === undefined ? null : await recordOf(bench, folder, output);
    checks.push(checkFacts(line.command, record, answerOf(line), line.verdictCounts));
  }
  return checks;
}

/** Everything that the front sheet says. */
export function deliveryReport(
  { job }: JobInPlace,
  verified: VerifiedJob,
  record: FinishedRun,
  facts: CoordinateFacts,
  checks: readonly DeliveryCheck[],
  said: Pick<DeliveryReport, 'notes' | 'coordinatesSha256'>,
): DeliveryReport {
  const last = entryAt(verified.lines, verified.lines.length - 1);
  return {
    title: job.title ?? 'Survey job',
    client: job.people.client === '' ? null : job.people.client,
    surveyor: job.people.surveyor === '' ? null : job.people.surveyor,
    timeUtc: last.timeUtc,
    toolVersion: VERSION,
    firstEpoch: facts.firstEpoch,
    lastEpoch: facts.lastEpoch,
    answer: record.answer,
    counts: facts.verdicts,
    points: facts.points,
    extent: facts.extent,
    checks,
    ledgerSha256: last.statedSha256,
    ...recordFacts(record),
    ...said,
  };
}

function answerOf({ answer }: LedgerLine): DeliveryCheck['answer'] {
  return answer === 'within' || answer === 'review' || answer === 'no' ? answer : 'error';
}
