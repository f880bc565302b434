import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { JobExclusion, JobFiles, JobLine, JobPeople, JobRename } from '../../records/runs/job.js';
import { present } from '../../records/present.js';
import type { Problem } from '../../records/problem.js';
import { JOB_SCHEMA } from './job-schema.js';
import type { SessionPart } from './session-read.js';
import { readToml } from './toml/toml-table.js';
import type { TomlTable } from './toml/toml-table.js';

/** A day as its job file has it: the file of its session is still to be read. */
export interface JobFileDay {
  readonly id: string;
  readonly date: string | null;
  readonly fixes: readonly string[];
  readonly occupations: string | null;
  readonly sessionFile: string | null;
  /** What the day says itself, in the job file. */
  readonly part: SessionPart;
}

/** A job file, before the session files that it names are read. */
export interface JobFileText {
  readonly title: string | null;
  readonly shared: { readonly sessionFile: string | null; readonly part: SessionPart } | null;
  readonly days: readonly JobFileDay[];
  readonly exclusions: readonly JobExclusion[];
  readonly renames: readonly JobRename[];
  readonly files: JobFiles;
  readonly people: JobPeople;
}

/**
 * A job from the text of a job file. Given: the text; the file's name for problems. Paths stay as typed.
 * Problems: config-version; those of `readToml`; config-invalid-value for a day without a name of its own, for a day, an
 * exclusion or a rename that contradicts another, and for one of a day that the job has not.
 */
export function readJob(text: string, source: string): Outcome<JobFileText> {
  const read = readToml(text, source, JOB_SCHEMA);
  if (!read.ok) return read;
  const { table, given } = read.value;
  if (table.number('version') !== 1)
    return failure(
      table.problem(
        'config-version',
        'version',
        `version ${String(table.number('version'))} is not one this program reads`,
        'write version = 1',
      ),
    );
  const days = table.tables('day');
  const excluded = table.tables('exclude');
  const renamed = table.tables('rename');
  const problems = [
    ...dayProblems(days, table),
    ...editProblems(days, [...excluded, ...renamed]),
    ...renameProblems(renamed),
  ];
  if (problems.length > 0) return failureOf(problems);
  const shared = table.table('shared');
  const files = table.table('files');
  const people = table.table('people');
  return success({
    title: table.text('title'),
    shared: shared === null ? null : { sessionFile: shared.text('session'), part: partOf(given, shared) },
    days: days.map((day): JobFileDay => ({
      id: needed(day, 'id'),
      date: day.date('date'),
      fixes: present(day.list('fixes'), 'the fixes of a day'),
      occupations: day.text('occupations'),
      sessionFile: day.text('session'),
      part: partOf(given, day),
    })),
    exclusions: excluded.map(exclusionOf),
    renames: renamed.map(renameOf),
    files: {
      control: files?.text('control') ?? null,
      design: files?.text('design') ?? null,
      limits: files?.text('limits') ?? null,
    },
    people: { client: people?.text('client') ?? null, surveyor: people?.text('surveyor') ?? null },
  });
}

/** What a table of the job file says of a session, its keys counted from there. */
function partOf(given: readonly string[], table: TomlTable): SessionPart {
  const before = `${table.path}.`;
  return { table, given: given.flatMap((key) => (key.startsWith(before) ? [key.slice(before.length)] : [])) };
}

function exclusionOf(entry: TomlTable): JobExclusion {
  return {
    point: needed(entry, 'point'),
    day: entry.text('day'),
    occupation: entry.text('occupation'),
    reason: needed(entry, 'reason'),
    ...lineOf(entry),
  };
}

function renameOf(entry: TomlTable): JobRename {
  return {
    from: needed(entry, 'from'),
    to: needed(entry, 'to'),
    day: entry.text('day'),
    reason: needed(entry, 'reason'),
    ...lineOf(entry),
  };
}

/** A setting that the schema has proved to be there. */
function needed(table: TomlTable, key: string): string {
  return present(table.text(key), key);
}

function lineOf(table: TomlTable): JobLine {
  const { where } = table.problem('config-invalid-value', '', '');
  return { path: table.path, line: where?.line ?? null };
}

function dayProblems(days: readonly TomlTable[], job: TomlTable): readonly Problem[] {
  if (days.length === 0)
    return [job.problem('config-missing', 'day', 'the job has no day', 'add a [[day]] with id and fixes')];
  const names = days.map((day) => day.text('id'));
  return days.flatMap((day, index) => {
    const id = needed(day, 'id');
    if (names.indexOf(id) < index)
      return [
        day.problem(
          'config-invalid-value',
          'id',
          `two days are called ${id}`,
          'an occupation is named by its day: give each day an id of its own',
        ),
      ];
    if (day.list('fixes')?.includes('-') === true)
      return [
        day.problem('config-invalid-value', 'fixes', 'a job reads files, and - is standard input', 'name the file'),
      ];
    // It stands before a slash in `occupation`, and after an at sign where a point is named.
    return /[/@+]/u.test(id)
      ? [
          day.problem(
            'config-invalid-value',
            'id',
            `the id ${id} holds a character that separates names: / @ +`,
            'write it without, such as 2026-03-04',
          ),
        ]
      : [];
  });
}

function editProblems(days: readonly TomlTable[], edits: readonly TomlTable[]): readonly Problem[] {
  const known = days.map((day) => needed(day, 'id'));
  return edits.flatMap((edit) => {
    const day = edit.text('day');
    return day === null || known.includes(day)
      ? []
      : [edit.problem('config-invalid-value', 'day', `the job has no day ${day}`, `its days are ${known.join(', ')}`)];
  });
}

/** Names are changed all at once, by the name in the fixes, so that two may be exchanged; one name cannot become two. */
function renameProblems(renamed: readonly TomlTable[]): readonly Problem[] {
  return renamed.flatMap((edit, index) => {
    const [from, day] = [needed(edit, 'from'), edit.text('day')];
    if (from === needed(edit, 'to'))
      return [edit.problem('config-invalid-value', 'to', `${from} is renamed to itself`, 'leave the entry out')];
    return renamed.slice(0, index).some((other) => other.text('from') === from && sameDay(other.text('day'), day))
      ? [
          edit.problem(
            'config-invalid-value',
            'from',
            `${from} is renamed twice`,
            'keep one of the two, or give each its day',
          ),
        ]
      : [];
  });
}

function sameDay(a: string | null, b: string | null): boolean {
  return a === null || b === null || a === b;
}
