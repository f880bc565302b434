import type { Job, JobExclusion, JobRename } from '../../records/runs/job.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** An exclusion or a rename, and how much it changed: occupations left out, or epochs under another name. */
export type AppliedEdit = { readonly count: number } & (
  { readonly kind: 'exclude'; readonly edit: JobExclusion } | { readonly kind: 'rename'; readonly edit: JobRename }
);

/** What a job changes of what was measured, counted as it is applied. */
export interface JobEdits {
  /** The name that a fix of a day goes by; every epoch passes once. */
  readonly nameOf: (pointId: string, day: string) => string;
  /** Whether an occupation is left out; `occupation` is its number on the day. Every occupation passes once. */
  readonly isExcluded: (pointId: string, day: string, occupation: string) => boolean;
  /** In the order of the file: exclusions, then renames. */
  readonly applied: () => readonly AppliedEdit[];
  /** value-unknown-id for each that changed nothing. `source`: the job file. */
  readonly unmatched: (source: string) => readonly Problem[];
}

/**
 * The edits of a job, none applied yet.
 *
 * @example
 * const rename = { from: 'P1', to: 'QP-1', day: null, reason: 'typed wrongly', path: 'rename[0]', line: null };
 * const edits = createJobEdits({ exclusions: [], renames: [rename] });
 * [edits.nameOf('P1', 'monday'), edits.nameOf('P2', 'monday'), edits.applied()[0].count]; // ['QP-1', 'P2', 1]
 */
export function createJobEdits({ exclusions, renames }: Pick<Job, 'exclusions' | 'renames'>): JobEdits {
  const left = exclusions.map((edit) => ({ kind: 'exclude' as const, edit, count: 0 }));
  const renamed = renames.map((edit) => ({ kind: 'rename' as const, edit, count: 0 }));
  const isOf = (edit: { readonly day: string | null }, day: string): boolean => edit.day === null || edit.day === day;
  return {
    nameOf(pointId, day) {
      const found = renamed.find(({ edit }) => edit.from === pointId && isOf(edit, day));
      if (found === undefined) return pointId;
      found.count += 1;
      return found.edit.to;
    },
    isExcluded(pointId, day, occupation) {
      const found = left.find(
        ({ edit }) =>
          edit.point === pointId && isOf(edit, day) && (edit.occupation === null || edit.occupation === occupation),
      );
      if (found === undefined) return false;
      found.count += 1;
      return true;
    },
    applied: () => [...left, ...renamed].map((entry): AppliedEdit => ({ ...entry })),
    unmatched: (source) =>
      [...left, ...renamed].flatMap((entry) => (entry.count > 0 ? [] : [unmatched(entry, source)])),
  };
}

function unmatched(entry: AppliedEdit, source: string): Problem {
  const { path, line, day } = entry.edit;
  const on = day === null ? 'on any day' : `on ${day}`;
  const name = entry.kind === 'rename' ? entry.edit.from : placeName(entry.edit);
  return errorProblem('value-unknown-id', {
    message: `${entry.kind} changes nothing: there is no ${name} ${on}`,
    received: name,
    where: { source, path, ...(line !== null && { line }) },
    hint:
      entry.kind === 'rename'
        ? 'from is the name as it stands in the fixes'
        : 'name the point and its occupation as they stand in the output, after renames',
  });
}

function placeName({ point, occupation }: JobExclusion): string {
  return occupation === null ? point : `${point} with an occupation ${occupation}`;
}

/** What is said of each edit, one line each. */
export function editLines(applied: readonly AppliedEdit[]): readonly string[] {
  return applied.map((entry) => {
    const on = entry.edit.day === null ? '' : ` on ${entry.edit.day}`;
    return entry.kind === 'rename'
      ? `renamed: ${entry.edit.from} to ${entry.edit.to}${on}, ${String(entry.count)} ${entry.count === 1 ? 'epoch' : 'epochs'}: ${entry.edit.reason}`
      : `left out: ${placeName(entry.edit)}${on}, ${String(entry.count)} ${entry.count === 1 ? 'occupation' : 'occupations'}: ${entry.edit.reason}`;
  });
}
