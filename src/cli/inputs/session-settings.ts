import { dirname, resolve } from 'node:path';
import type { SessionInPlace } from '../../files/sessions/session-in-place.js';
import { readTextFile } from '../../io/text/text-file.js';
import { defaultSession, readSession } from '../../io/settings/session-read.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { numberOption, textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';
import type { Context } from '../shell/context.js';
import type { JobInPlace, JobSource } from '../../files/job/load-job.js';
import { joinSessions } from '../../tasks/job/join-sessions.js';
import { jobFromOption } from './job-option.js';
import { geoidOptions } from './geoid-options.js';
import { gridReading } from './grid-reading.js';

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
    return withOptions({ session: defaultSession(), folder: cwd, origins: {}, file: null, reading }, invocation, cwd);
  const path = resolve(cwd, name);
  const text = await readTextFile(path, name);
  if (!text.ok) return text;
  const read = readSession(text.value.text, name);
  if (!read.ok) return read;
  const { bytes, sha256 } = text.value;
  const origins = Object.fromEntries(read.value.given.map((key) => [key, name]));
  const stated = { session: read.value, folder: dirname(path), origins, file: { path, name, bytes, sha256 }, reading };
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
  const stated = { session: session.value, folder, origins, file: null, reading, sources, days, dates };
  return withOptions(stated, invocation, cwd);
}

/** A session with the options of the command line laid over it; `cwd` is where their paths start from. */
export function withOptions(stated: ResolvedSession, invocation: Invocation, cwd: string): Outcome<ResolvedSession> {
  let { session } = stated;
  const origins: Record<string, string> = { ...stated.origins };
  const system = textOption(invocation, 'system');
  const fixes = textOption(invocation, 'fixesSystem');
  if (system !== null || fixes !== null) {
    session = {
      ...session,
      system: {
        // No grid is named yet; who needs one asks for it.
        grid: system ?? session.system?.grid ?? '',
        fixes: fixes ?? session.system?.fixes ?? null,
        epochYear: session.system?.epochYear ?? null,
        shift: session.system?.shift ?? null,
      },
    };
    if (system !== null) origins['system.grid'] = 'command line';
    if (fixes !== null) origins['system.fixes'] = 'command line';
  }
  const options = geoidOptions(invocation, session.height.geoid);
  if (!options.ok) return options;
  const { model, interpolation, statedFrame } = options.value;
  if (model !== null) {
    const path = model === 'egm96' ? model : resolve(cwd, model);
    session = { ...session, height: { ...session.height, geoid: path } };
    origins['height.geoid'] = 'command line';
  }
  if (interpolation !== null) {
    session = { ...session, height: { ...session.height, interpolation } };
    origins['height.interpolation'] = 'command line';
  }
  if (statedFrame !== null) {
    session = { ...session, height: { ...session.height, geoidFrame: statedFrame } };
    origins['height.geoid_frame'] = 'command line';
  }
  const poleLengthM = numberOption(invocation, 'poleLength');
  if (poleLengthM !== null) {
    if (!(poleLengthM >= 0 && poleLengthM <= 100)) {
      return failure(
        errorProblem('usage-invalid', {
          message: `--pole-length ${poleLengthM} is outside 0..100 metres`,
          received: String(poleLengthM),
        }),
      );
    }
    session = { ...session, rover: { ...session.rover, poleLengthM } };
    origins['rover.pole_length_m'] = 'command line';
  }
  const phaseCentreOffsetM = numberOption(invocation, 'phaseCentreOffset');
  if (phaseCentreOffsetM !== null) {
    if (!(phaseCentreOffsetM >= -1 && phaseCentreOffsetM <= 1)) {
      return failure(
        errorProblem('usage-invalid', {
          message: `--phase-centre-offset ${phaseCentreOffsetM} is outside -1..1 metres`,
          received: String(phaseCentreOffsetM),
        }),
      );
    }
    session = { ...session, rover: { ...session.rover, phaseCentreOffsetM } };
    origins['rover.phase_centre_offset_m'] = 'command line';
  }
  const referencePoint = textOption(invocation, 'referencePoint');
  if (referencePoint !== null) {
    session = { ...session, rover: { ...session.rover, referencePoint } };
    origins['rover.reference_point'] = 'command line';
  }
  return success({ ...stated, session, origins });
}
