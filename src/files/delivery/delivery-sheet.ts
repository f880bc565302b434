import { pushAll } from '../../core/numeric/push-all.js';
import { readRunRecord } from '../../io/documents/run-record-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { FinishedRun } from '../../records/runs/finished-run.js';
import type { LedgerLine, LedgerOutput } from '../../records/runs/ledger.js';
import { entryAt } from '../../records/present.js';
import type { Problem } from '../../records/problem.js';
import type { DeliveryCheck, DeliveryFact, DeliveryReport } from '../../records/reports/delivery-report.js';
import { VERSION } from '../../records/runs/version.js';
import { checkFacts, recordFacts } from '../../tasks/job/delivery/record-facts.js';
import { crewOfJob } from '../../tasks/pages/survey-crew.js';
import type { JobInPlace } from '../job/load-job.js';
import type { VerifiedJob } from '../ledger/verify-job.js';
import { beyondOfCheck } from './beyond-of-check.js';
import type { ChosenOutputs } from './choose-outputs.js';
import { readAsWritten } from './gather-files.js';

/** Commands that say whether coordinates are right. */
const CHECKING: readonly string[] = ['check-tolerances', 'adjust-network', 'fit-site'];

/** What is known of the points together. */
export interface CoordinateFacts {
  /** Points, by their names, that have a coordinate. */
  readonly points: number;
  /** Rows by verdict. */
  readonly verdicts: ReadonlyMap<string, number>;
  readonly extent: readonly DeliveryFact[];
  readonly worst: DeliveryReport['worst'];
  readonly rejected: DeliveryReport['rejected'];
  readonly review: DeliveryReport['review'];
  readonly firstEpoch: string | null;
  readonly lastEpoch: string | null;
}

/** The record of a run, from the file it was written to. Problems: those of the file and of the record. */
export async function deliveredRecord(folder: string, output: LedgerOutput): Promise<Outcome<FinishedRun>> {
  const bytes = await readAsWritten(folder, output);
  return bytes.ok ? readRunRecord(new TextDecoder().decode(bytes.value), output.name) : bytes;
}

/** The checks that are part of a delivery: of each run one. Problems: those of their records. */
export async function deliveredChecks(
  { lines, folder }: VerifiedJob,
  { others }: ChosenOutputs,
): Promise<Outcome<readonly DeliveryCheck[]>> {
  const runs = lines.filter((line) => CHECKING.includes(line.command) && others.some((other) => other.line === line));
  const checks: DeliveryCheck[] = [];
  const problems: Problem[] = [];
  for (const line of runs) {
    const output = others.find((other) => other.line === line && other.output.role === 'record')?.output;
    const record = output === undefined ? success(null) : await deliveredRecord(folder, output);
    if (!record.ok) return record;
    pushAll(problems, record.problems);
    const table = others.find((other) => other.line === line && other.output.role === 'data')?.output;
    checks.push({
      ...checkFacts(line.command, record.value, answerOf(line), line.verdictCounts),
      beyond: table === undefined ? [] : await beyondOfCheck(folder, table),
    });
  }
  return success(checks, problems);
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
  const crew = crewOfJob(job);
  const last = entryAt(verified.lines, verified.lines.length - 1);
  return {
    title: job.title ?? 'Survey job',
    client: crew.client,
    surveyor: crew.surveyor,
    observers: crew.observers,
    instruments: [
      ...crew.instruments,
      ...crew.baseInstruments.map(({ id, instrument }) => `base ${id}: ${instrument}`),
    ],
    reasons: record.reasonCounts,
    timeUtc: last.timeUtc,
    toolVersion: VERSION,
    firstEpoch: facts.firstEpoch,
    lastEpoch: facts.lastEpoch,
    answer: record.answer,
    counts: facts.verdicts,
    points: facts.points,
    extent: facts.extent,
    worst: facts.worst,
    rejected: facts.rejected,
    review: facts.review,
    checks,
    ledgerSha256: last.statedSha256,
    ...recordFacts(record),
    ...said,
  };
}

function answerOf({ answer }: LedgerLine): DeliveryCheck['answer'] {
  return answer === 'within' || answer === 'review' || answer === 'no' ? answer : 'error';
}
