import { createHash } from 'node:crypto';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import type { LedgerFile, LedgerLine, LedgerOutput, LedgerRole, LedgerRun } from '../../records/runs/ledger.js';
import type { Problem } from '../../records/problem.js';
import { jsonMembers } from '../documents/json/json-members.js';
import type { JsonMembers } from '../documents/json/json-members.js';
import { isDeeperThan } from '../documents/json/json-depth.js';

/** Name of every ledger: it stands beside the job file. */
export const LEDGER_NAME = 'job-ledger.jsonl';

const SCHEMA = 'pegbook-job-ledger';
const VERSION = 1;
const DEEPEST = 8;
const ROLES: readonly LedgerRole[] = ['data', 'side', 'page', 'record', 'problems'];
/** How a line ends: the digest of the line with this taken off and closed again. */
const ENDING = /,"line_sha256":"([0-9a-f]{64})"\}$/u;

/** What a line must know of the one before it. */
export interface LedgerPlace {
  readonly sequence: number;
  readonly sha256: string;
}

/**
 * A line of a ledger, without its line end.
 * Given: the run; its line's place, after the one before it or null for the first. Returned: JSON whose last member is the
 * SHA-256 of the line without that member. The inverse is `readLedgerLine`.
 */
export function ledgerLine(run: LedgerRun, before: LedgerPlace | null): string {
  const record = run.outputs.find(({ role }) => role === 'record');
  const body = JSON.stringify({
    schema: SCHEMA,
    version: VERSION,
    sequence: before === null ? 1 : before.sequence + 1,
    time_utc: formatUtc(run.timeMs),
    tool_version: run.toolVersion,
    job: run.job,
    command: run.command,
    argv: run.argv,
    exit_code: run.exitCode,
    verdict: run.answer,
    verdict_counts: Object.fromEntries(run.verdictCounts),
    record_sha256: record?.sha256 ?? null,
    inputs: run.inputs.map(({ name, bytes, sha256 }) => ({ name, bytes, sha256 })),
    outputs: run.outputs.map(({ role, name, bytes, sha256 }) => ({ role, name, bytes, sha256 })),
    previous_sha256: before?.sha256 ?? null,
  });
  return `${body.slice(0, -1)},"line_sha256":"${digestOf(body)}"}`;
}

/** A line of a ledger; null where it is no whole one. Given: its text without the line end; its number in the file, from 1. */
export function readLedgerLine(text: string, line: number): LedgerLine | null {
  const ending = ENDING.exec(text);
  if (ending === null) return null;
  let parsed: unknown;
  try {
    parsed = JSON.parse(text);
  } catch {
    return null;
  }
  if (isDeeperThan(parsed, DEEPEST)) return null;
  const problems: Problem[] = [];
  const top = jsonMembers(parsed, '', '', problems);
  if (top.text('schema') !== SCHEMA || top.number('version') !== VERSION) return null;
  const json = parsed as Readonly<Record<string, unknown>>;
  const previous = json['previous_sha256'];
  const read: LedgerLine = {
    line,
    sequence: top.number('sequence'),
    timeUtc: top.text('time_utc'),
    command: top.text('command'),
    answer: top.text('verdict'),
    verdictCounts: countsOf(json['verdict_counts']),
    inputs: top.objects('inputs').map(fileOf),
    outputs: top.objects('outputs').flatMap(outputOf),
    previousSha256: typeof previous === 'string' ? previous : null,
    statedSha256: ending[1] as string,
    actualSha256: digestOf(`${text.slice(0, ending.index)}}`),
  };
  return problems.length > 0 ? null : read;
}

function fileOf(members: JsonMembers): LedgerFile {
  return { name: members.text('name'), bytes: members.number('bytes'), sha256: members.text('sha256') };
}

function outputOf(members: JsonMembers): readonly LedgerOutput[] {
  const role = ROLES.find((known) => known === members.text('role'));
  return role === undefined ? [] : [{ role, ...fileOf(members) }];
}

function countsOf(value: unknown): LedgerLine['verdictCounts'] {
  const counts = typeof value === 'object' && value !== null ? Object.entries(value) : [];
  return Object.fromEntries(counts.filter((count): count is [string, number] => typeof count[1] === 'number'));
}

function digestOf(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}
