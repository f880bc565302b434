import { largestOf } from '../../../core/numeric/extremes.js';
import type { VerifiedJob } from '../../../files/ledger/verify-job.js';
import type { CsvWriteOptions } from '../../../io/csv/csv-write.js';
import type { LedgerChange } from '../../../tasks/job/ledger/ledger-change.js';
import { recordsText } from '../../outputs/record-writer.js';
import type { RecordColumn, WrittenRecord } from '../../outputs/record-writer.js';

const COLUMNS: readonly RecordColumn[] = [
  { name: 'code', kind: 'text' },
  { name: 'line', kind: 'number' },
  { name: 'file', kind: 'text' },
  { name: 'expected_sha256', kind: 'text' },
  { name: 'found_sha256', kind: 'text' },
  { name: 'said', kind: 'text' },
];
/** A change has no place. */
const NOWHERE: WrittenRecord['geometry'] = { kind: 'lines', lines: [] };
/** Of a digest, where people compare two by eye. */
const SHOWN_DIGITS = 12;

/** What was looked at, under one set of names for every format. */
export function verifiedJobSummary(job: VerifiedJob): Readonly<Record<string, string | number | null>> {
  const last = job.lines.at(-1);
  return {
    verdict: job.changes.length === 0 ? 'within' : 'no',
    ledger: job.ledger,
    lines: job.lineCount,
    last_time_utc: last?.timeUtc ?? null,
    head_sha256: last?.statedSha256 ?? null,
    files: filesOf(job),
    changes: job.changes.length,
  };
}

/** The changes as a table. */
export function verifiedJobTable(job: VerifiedJob, format: 'csv' | 'json', csv: CsvWriteOptions): string {
  const rows = job.changes.map((change) => ({
    cells: [
      change.code,
      change.line === null ? '' : String(change.line),
      // Empty cells: a change of the ledger itself is of no file, and a file that is gone or new has one digest.
      change.name ?? '',
      // Empty: the ledger does not know it.
      change.expectedSha256 ?? '',
      // Empty: it is not there.
      change.foundSha256 ?? '',
      change.said,
    ],
    geometry: NOWHERE,
  }));
  const head = {
    schema: 'pegbook-verified-job',
    list: 'changes',
    members: {},
    summary: verifiedJobSummary(job),
  };
  return recordsText(format, COLUMNS, rows, head, csv);
}

/** The same for people. */
export function verifiedJobWords(job: VerifiedJob): string {
  const { last_time_utc: time, head_sha256: head } = verifiedJobSummary(job);
  const width = largestOf([0, ...job.changes.map(({ code }) => code.length)]) + 2;
  return [
    `${job.ledger}: ${counted(job.lineCount, 'line')}${time === null ? '' : `, the last of ${String(time)}`}`,
    ...(head === null ? [] : [`digest of the last line: ${String(head)}`]),
    `${counted(filesOf(job), 'file')} looked at: ${job.changes.length === 0 ? 'everything is as it was left' : `${String(job.changes.length)} not as it was left`}`,
    ...job.changes.flatMap((change) => changeLines(change, width)),
    '',
  ].join('\n');
}

function changeLines(
  { code, line, name, expectedSha256, foundSha256, said }: LedgerChange,
  width: number,
): readonly string[] {
  const what = name ?? (line === null ? 'the ledger' : `line ${String(line)}`);
  const was = expectedSha256 === null ? null : `was ${expectedSha256.slice(0, SHOWN_DIGITS)}…`;
  const is = foundSha256 === null ? null : `is ${foundSha256.slice(0, SHOWN_DIGITS)}…`;
  const digests = [was, is].filter((text) => text !== null).join(', ');
  return [`${code.padEnd(width)}${what}: ${said}`, ...(digests === '' ? [] : [`${' '.repeat(width)}${digests}`])];
}

function filesOf({ standing }: VerifiedJob): number {
  return new Set(standing.map(({ name }) => name)).size;
}

function counted(count: number, word: string): string {
  return `${String(count)} ${word}${count === 1 ? '' : 's'}`;
}
