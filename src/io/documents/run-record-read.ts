import type { FinishedInput, FinishedRun } from '../../records/runs/finished-run.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { isDeeperThan } from './json/json-depth.js';
import { jsonMembers } from './json/json-members.js';
import type { JsonMembers } from './json/json-members.js';
import { parseJson } from './json/parse-json.js';
import { readRunSummary } from './run-summary-json.js';
import { RUN_RECORD_SCHEMA, RUN_RECORD_VERSION } from './run-record.js';

const DEEPEST = 64;

/**
 * Reads a run record.
 * Given: its text; its name for people. Problems: config-syntax where it is no JSON; record-schema, with the member,
 * where it is another kind of document, of another version, or not whole. The inverse is `runRecord`.
 */
export function readRunRecord(text: string, source: string): Outcome<FinishedRun> {
  const document = parseJson(text, source);
  if (!document.ok) return document;
  const parsed = document.value;
  const problems: Problem[] = [];
  const top = jsonMembers(parsed, source, '', problems);
  if (
    isDeeperThan(parsed, DEEPEST) ||
    problems.length > 0 ||
    top.text('schema') !== RUN_RECORD_SCHEMA ||
    top.number('version') !== RUN_RECORD_VERSION
  ) {
    return failure(
      errorProblem('record-schema', {
        message: `is not a run record of version ${RUN_RECORD_VERSION}`,
        where: { source },
        expected: `${RUN_RECORD_SCHEMA}, version ${RUN_RECORD_VERSION}`,
        hint: 'give the files that --record wrote',
      }),
    );
  }
  const json = parsed as Readonly<Record<string, unknown>>;
  const rawInputs = Array.isArray(json['inputs']) ? (json['inputs'] as unknown[]) : [];
  const run: FinishedRun = {
    source,
    toolVersion: top.text('tool_version'),
    argv: top.texts('argv'),
    settings: new Map(top.objects('settings').map((setting, index) => [setting.text('key'), settingText(json, index)])),
    outputs: Object.hasOwn(json, 'outputs') ? top.objects('outputs').map(outputOf) : [],
    summary: Object.hasOwn(json, 'summary') ? readRunSummary(top.object('summary')) : null,
    inputs: top.objects('inputs').map((input, index) => summed(inputOf(input, rawInputs[index]), input)),
    problems: countsOf(json, 'problems', top),
    ...answerOf(top),
    verdictCounts: countsOf(json, 'verdict_counts', top),
    reasonCounts: countsOf(json, 'reason_counts', top),
    exitCode: top.number('exit_code'),
    json,
  };
  return problems.length > 0 ? failureOf(problems) : success(run);
}

function inputOf(members: JsonMembers, raw: unknown): FinishedInput {
  const json = raw as Readonly<Record<string, unknown>>;
  const isPart = typeof raw === 'object' && raw !== null && Object.hasOwn(raw, 'row_from');
  return {
    name: members.text('name'),
    kind: members.text('kind'),
    sha256: members.text('sha256'),
    rowsRead: members.number('rows_read'),
    rowsUsed: members.number('rows_used'),
    rowsRejected: members.number('rows_rejected'),
    part: isPart
      ? {
          rowFrom: members.number('row_from'),
          rowTo: members.number('row_to'),
          reachesEnd: json['reaches_end'] === true,
        }
      : null,
    json,
  };
}

/** Rows are counted from 0, each is used or refused, and a part holds as many as it says. */
function summed(input: FinishedInput, members: JsonMembers): FinishedInput {
  const { rowsRead, rowsUsed, rowsRejected, part } = input;
  const counts = [
    ['rows_read', rowsRead],
    ['rows_used', rowsUsed],
    ['rows_rejected', rowsRejected],
  ] as const;
  for (const [key, count] of counts)
    if (!(Number.isSafeInteger(count) && count >= 0)) members.refuse(key, 'a count of rows');
  if (rowsUsed + rowsRejected !== rowsRead)
    members.refuse('rows_read', `rows_used and rows_rejected together, ${String(rowsUsed + rowsRejected)}`);
  if (
    part !== null &&
    !(part.rowFrom >= 1 && Number.isSafeInteger(part.rowFrom) && part.rowTo - part.rowFrom + 1 === rowsRead)
  )
    members.refuse('row_to', 'the last of the rows read');
  return input;
}

/** A record of a run that errors stopped has no answer; its exit code says so, and the caller refuses it by that. */
function answerOf(top: JsonMembers): Pick<FinishedRun, 'answer' | 'verdict'> {
  const verdict = top.text('verdict');
  if (verdict === 'within' || verdict === 'review' || verdict === 'no') return { answer: verdict, verdict };
  if (verdict !== 'error') top.refuse('verdict', 'within, review, no or error');
  return { answer: 'no', verdict: 'error' };
}

function outputOf(members: JsonMembers): FinishedRun['outputs'][number] {
  return {
    name: members.text('name'),
    role: members.text('role'),
    bytes: members.number('bytes'),
    sha256: members.text('sha256'),
  };
}

/** The value of a setting as text: a text as it is, anything else as JSON writes it. */
function settingText(json: Readonly<Record<string, unknown>>, index: number): string {
  const { value } = (json['settings'] as readonly { readonly value?: unknown }[])[index] ?? {};
  return typeof value === 'string' ? value : JSON.stringify(value ?? null);
}

function countsOf(
  json: Readonly<Record<string, unknown>>,
  member: string,
  top: JsonMembers,
): ReadonlyMap<string, number> {
  const value = json[member];
  const counts = typeof value === 'object' && value !== null ? Object.entries(value) : [];
  if (counts.some(([, count]) => typeof count !== 'number' || !Number.isSafeInteger(count) || count < 0))
    top.refuse(member, 'counts');
  return new Map(counts as [string, number][]);
}
