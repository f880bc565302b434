import { dirname, posix, relative, resolve, sep } from 'node:path';
import { readJob } from '../../io/settings/job-read.js';
import type { JobFileDay } from '../../io/settings/job-read.js';
import { placedPart } from '../../io/settings/placed-part.js';
import { readSessionPart, sessionOfParts } from '../../io/settings/session-read.js';
import type { SessionPart } from '../../io/settings/session-read.js';
import { readTextFile } from '../../io/text/text-file.js';
import type { TextFile } from '../../io/text/text-file.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Job, JobDay } from '../../records/runs/job.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { pushAll } from '../../core/numeric/push-all.js';

/** A settings file that was read: its absolute path, its name from the job's folder, its size and digest. */
export interface JobSource extends Pick<TextFile, 'bytes' | 'sha256'> {
  readonly path: string;
  readonly name: string;
  readonly kind: 'job' | 'session';
}

/** A job, where the paths in it start from, and the files that say it. */
export interface JobInPlace {
  readonly job: Job;
  /** Of the job file; every path of the job and of its sessions starts there. */
  readonly folder: string;
  /** The job file first, then session files in the order of the days. */
  readonly sources: readonly JobSource[];
  /** By day, which file says each setting: dotted key → name. */
  readonly origins: readonly Readonly<Record<string, string>>[];
}

interface NamedPart extends SessionPart {
  readonly name: string;
}

/**
 * A job file (TOML, docs/jobs.md) with the session files that it names, each day's session whole.
 *
 * Given: its path and the folder that it starts from; absent: the working folder. Of every setting counts what the day says in the job file, then its
 * session file, then `[shared]`, then the shared session file. Returned: see `JobInPlace`.
 * Problems: file-not-found, file-too-large, file-encoding; those of `readJob`, `readSessionPart` and `sessionOfParts`.
 *
 * @example
 * const job = await loadJob('../quillback-pan-job/job.toml');
 * job.value.job.days.length; // 3
 */
export async function loadJob(path: string, cwd: string = '.'): Promise<Outcome<JobInPlace>> {
  const whole = resolve(cwd, path);
  const folder = dirname(whole);
  const text = await readTextFile(whole, path);
  if (!text.ok) return text;
  const read = readJob(text.value.text, path);
  if (!read.ok) return read;
  const { shared, days, title, exclusions, renames, files, people } = read.value;
  const sources = new Map<string, JobSource>([
    [whole, { path: whole, name: path, kind: 'job', ...digest(text.value) }],
  ]);
  const sessionPart = async (name: string): Promise<Outcome<NamedPart>> => {
    const at = resolve(folder, name);
    const session = await readTextFile(at, name);
    if (!session.ok) return session;
    sources.set(at, { path: at, name, kind: 'session', ...digest(session.value) });
    const part = readSessionPart(session.value.text, name);
    return part.ok ? success({ ...placedPart(part.value, fromFolder(folder, dirname(at))), name }) : part;
  };
  const problems: Problem[] = [];
  const below: NamedPart[] = shared === null ? [] : [{ ...shared.part, name: path }];
  if (shared !== null && shared.sessionFile !== null) {
    const part = await sessionPart(shared.sessionFile);
    if (!part.ok) return part;
    below.push(part.value);
  }
  const made: { readonly day: JobDay; readonly origins: Readonly<Record<string, string>> }[] = [];
  for (const day of days) {
    const own: NamedPart[] = [{ ...day.part, name: path }];
    if (day.sessionFile !== null) {
      const part = await sessionPart(day.sessionFile);
      if (!part.ok) {
        pushAll(problems, part.problems);
        continue;
      }
      own.push(part.value);
    }
    const session = sessionOfParts([...own, ...below] as [NamedPart, ...NamedPart[]]);
    const wrong = session.ok
      ? wrongReferences(
          session.value,
          days.map(({ id }) => id),
          day.id,
          path,
        )
      : [];
    if (wrong.length > 0) pushAll(problems, wrong);
    else if (session.ok) made.push({ day: jobDay(day, session.value, own), origins: originsOf([...own, ...below]) });
    else pushAll(problems, session.problems);
  }
  if (problems.length > 0) return failureOf(problems);
  return success({
    job: { title, days: made.map(({ day }) => day), exclusions, renames, files, people },
    folder,
    sources: [...sources.values()],
    origins: made.map(({ origins }) => origins),
  });
}

function jobDay(
  { id, date, fixes, occupations }: JobFileDay,
  session: JobDay['session'],
  own: readonly NamedPart[],
): JobDay {
  // A base without a name is refused with its session.
  const ownBases = own.flatMap(({ table }) => table.tables('base').map((base) => base.text('id') ?? ''));
  const bases = session.bases.map((base) => (ownBases.includes(base.id) ? { ...base, day: id } : base));
  return { id, date, fixes, occupations, session: { ...session, bases } };
}

/** config-invalid-value for each base of a day that is known by a day which does not come before it. */
function wrongReferences(
  { bases }: JobDay['session'],
  order: readonly string[],
  day: string,
  source: string,
): readonly Problem[] {
  const before = order.slice(0, order.indexOf(day));
  return bases.flatMap(({ id, knownFrom }) =>
    knownFrom === undefined || before.includes(knownFrom.day)
      ? []
      : [
          errorProblem('config-invalid-value', {
            message: `base ${id} of day ${day} is known by ${knownFrom.point} of day ${knownFrom.day}, which ${order.includes(knownFrom.day) ? 'does not come before it' : 'the job has not'}`,
            where: { source },
            hint: 'the day that measured the mark comes first in the job, so that nothing rests on itself',
          }),
        ],
  );
}

/** What says each setting: the part that counts most comes first. */
function originsOf(parts: readonly NamedPart[]): Readonly<Record<string, string>> {
  return Object.fromEntries([...parts].reverse().flatMap(({ given, name }) => given.map((key) => [key, name])));
}

function digest({ bytes, sha256 }: TextFile): Pick<TextFile, 'bytes' | 'sha256'> {
  return { bytes, sha256 };
}

/** A folder as seen from another, with slashes; empty: the same. */
function fromFolder(from: string, to: string): string {
  return relative(from, to).split(sep).join(posix.sep);
}
