import type { EntryFiles } from '../../records/runs/manifest-entry.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import type { Problem } from '../../records/problem.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import { jsonMembers } from './json/json-members.js';
import type { JsonMembers } from './json/json-members.js';

/** Name of the member of a run record that only an entry of a manifest has. */
export const ENTRY_MEMBER = 'entry';

/** The text of a run record with what it says as that of an entry. The inverse is `readEntryMember`. */
export function withEntryMember(record: string, { inputs, outputs, problem }: EntryFiles): string {
  const whole = JSON.parse(record) as Readonly<Record<string, unknown>>;
  const file = ({ name, bytes, sha256 }: FileDigest): FileDigest => ({ name, bytes, sha256 });
  const member = { inputs: inputs.map(file), outputs: outputs.map(file), ...(problem !== null && { problem }) };
  return `${JSON.stringify({ ...whole, [ENTRY_MEMBER]: member }, null, 2)}\n`;
}

/** What a run record says as that of an entry; null where it is of none, or the member is not whole. */
export function readEntryMember(record: Readonly<Record<string, unknown>>): EntryFiles | null {
  if (!Object.hasOwn(record, ENTRY_MEMBER)) return null;
  const problems: Problem[] = [];
  const entry = jsonMembers(record[ENTRY_MEMBER], '', ENTRY_MEMBER, problems);
  const found: EntryFiles = {
    inputs: entry.objects('inputs').map(fileOf),
    outputs: entry.objects('outputs').map(fileOf),
    problem: problemOf(entry, record[ENTRY_MEMBER]),
  };
  return problems.length > 0 ? null : found;
}

function fileOf(members: JsonMembers): FileDigest {
  return { name: members.text('name'), bytes: members.number('bytes'), sha256: members.text('sha256') };
}

function problemOf(entry: JsonMembers, raw: unknown): Problem | null {
  if (!Object.hasOwn(raw as object, 'problem')) return null;
  const members = entry.object('problem');
  const code = members.text('code');
  if (!isCode(code)) {
    members.refuse('code', 'a problem code');
    return null;
  }
  const where = (raw as { readonly problem: { readonly where?: Problem['where'] } }).problem.where;
  return { code, severity: 'error', message: members.text('message'), ...(where !== undefined && { where }) };
}

function isCode(text: string): text is ProblemCode {
  return Object.hasOwn(PROBLEM_CODES, text);
}
