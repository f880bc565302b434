import { dirname, resolve } from 'node:path';
import type { SessionInPlace } from '../../files/sessions/session-in-place.js';
import { readTextFile } from '../../io/text/text-file.js';
import { defaultSession, readSession } from '../../io/settings/session-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';
import type { Context } from '../shell/context.js';
import type { JobInPlace, JobSource } from '../../files/job/load-job.js';
import type { SurveyCrew } from '../../records/reports/parts/survey-crew.js';
import { NO_CREW, crewOfJob, surveyCrew } from '../../tasks/pages/survey-crew.js';
import { joinSessions } from '../../tasks/job/join-sessions.js';
import { jobFromOption } from './job-option.js';
import { gridReading } from './grid-reading.js';
import { OVERLAYS } from './session-overlays.js';

/** The session with the command line's overrides, and where each setting came from. */
export interface ResolvedSession extends SessionInPlace {
  /** Setting → `session file`, `command line`; anything absent is a default. */
  readonly origins: Readonly<Record<string, string>>;
  /** The session file's absolute path, size and digest; null without one. */
  readonly file: {
    readonly path: string;
    readonly name: string;
    readonly bytes: number;
    readonly sha256: string;
  } | null;
  /** The files of the job that it is of; absent: of no job, or of one day of it. */
  readonly sources?: readonly JobSource[];
  /** Who measured and with what. */
  readonly crew: SurveyCrew;
  /** Ids of the days of a job, in their order; absent: of no job. */
  readonly days?: readonly string[];
  /** Dates of those days of a job that state one, by their ids, milliseconds since 1970 at midnight; absent: of no job. */
  readonly dates?: ReadonlyMap<string, number>;
}

/** Reads --session and lays the overriding options over it. Nothing else can change a setting. */
export async function resolveSession(
  invocation: Invocation,
  { cwd, signal }: Pick<Context, 'cwd' | 'signal'>,
): Promise<Outcome<ResolvedSession>> {
  const job = await jobFromOption(invocation, cwd, [['session', '--session']], true);
  if (!job.ok) return job;
  if (job.value !== null) return sessionOfJob(job.value, invocation, { cwd, signal });
  const name = textOption(invocation, 'session');
  const reading = gridReading(invocation, signal);
  if (name === null)
    return withOptions(
      { session: defaultSession(), folder: cwd, origins: {}, file: null, reading, crew: NO_CREW },
      invocation,
      cwd,
    );
  const path = resolve(cwd, name);
  const text = await readTextFile(path, name);
  if (!text.ok) return text;
  const read = readSession(text.value.text, name);
  if (!read.ok) return read;
  const { bytes, sha256 } = text.value;
  const origins = Object.fromEntries(read.value.given.map((key) => [key, name]));
  const crew = surveyCrew(null, [read.value]);
  const file = { path, name, bytes, sha256 };
  const stated = { session: read.value, folder: dirname(path), origins, file, reading, crew };
  return withOptions(stated, invocation, cwd);
}

/** What all days of a job share, with the bases of all of them; one that is known by an earlier day stands where it broadcast. Problems: those of `joinSessions`. */
export function sessionOfJob(
  job: JobInPlace,
  invocation: Invocation,
  { cwd, signal }: Pick<Context, 'cwd' | 'signal'>,
): Outcome<ResolvedSession> {
  const session = joinSessions(job.job);
  if (!session.ok) return session;
  const origins = Object.fromEntries(job.origins.toReversed().flatMap((own) => Object.entries(own)));
  const reading = gridReading(invocation, signal);
  const days = job.job.days.map(({ id }) => id);
  const dates = new Map(
    job.job.days.flatMap(({ id, date }) => (date === null ? [] : [[id, Date.parse(date)] as const])),
  );
  const { folder, sources } = job;
  const crew = crewOfJob(job.job);
  const stated = { session: session.value, folder, origins, file: null, reading, sources, crew, days, dates };
  return withOptions(stated, invocation, cwd);
}

/** A session with the options of the command line laid over it; `cwd` is where their paths start from. */
export function withOptions(stated: ResolvedSession, invocation: Invocation, cwd: string): Outcome<ResolvedSession> {
  let { session } = stated;
  const origins: Record<string, string> = { ...stated.origins };
  for (const lay of OVERLAYS) {
    const laid = lay(session, invocation, cwd);
    if (!laid.ok) return laid;
    ({ session } = laid.value);
    for (const key of laid.value.keys) origins[key] = 'command line';
  }
  return success({ ...stated, session, origins });
}
