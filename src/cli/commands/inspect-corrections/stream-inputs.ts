import { WGS84 } from '../../../core/ellipsoid/ellipsoid.js';
import { loadHeldBases } from '../../../files/corrections/load-held-bases.js';
import type { HeldBases } from '../../../files/corrections/load-held-bases.js';
import { readLink } from '../../../files/corrections/read-link.js';
import { readStreams } from '../../../files/corrections/read-streams.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import type { LinkReport } from '../../../records/corrections/link-report.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { resolveSession } from '../../inputs/session-settings.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { tableOptions } from '../../inputs/table-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { isGiven, listOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import type { Workbench } from '../../shell/workbench.js';
import type { StreamOptions } from './stream-options.js';

/** The session that counts, and its bases. */
export interface SessionInForce {
  readonly resolved: ResolvedSession;
  /** Null: neither a session nor a system is named. */
  readonly held: HeldBases | null;
}

/** Reads --session or --job with the options laid over it; the defaults where neither is named. */
export async function sessionInForce(bench: Workbench, log: RunLog): Promise<SessionInForce> {
  const { invocation, context } = bench;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  if (!(['session', 'job', 'system'] as const).some((name) => isGiven(invocation, name)))
    return { resolved, held: null };
  const loaded = await loadHeldBases(resolved);
  if (!loaded.ok) return bench.take(loaded);
  if (loaded.value.setup !== null) log.models(loaded.value.setup, bench.diagnostics);
  return { resolved, held: loaded.value };
}

/** What the streams hold. Problems stop the run. */
export async function auditOf(
  bench: Workbench,
  log: RunLog,
  { dateMs }: StreamOptions,
  { held }: SessionInForce,
): Promise<CorrectionAudit> {
  const { invocation, context, progress } = bench;
  progress.update('reading streams');
  const { count, files } = bench.take(await readStreams(invocation.args, context, bench.breathe));
  for (const { source, frames } of files) log.input(source, 'correction stream', frames.good, frames.damaged);
  const audit = count.result(dateMs, held?.ellipsoid ?? WGS84);
  if (dateMs !== null && audit.calendar.zeroMs === null)
    bench.take(
      failure(
        errorProblem('stream-date', {
          message: 'the stream does not begin on the day of the week of --date',
          hint: 'give the date, in UTC, of the first epoch; without --date the day of the week is printed',
        }),
      ),
    );
  return audit;
}

/** The link of a day, and how many bad rows of its fixes were left out on request. */
export interface FoundLink {
  readonly link: LinkReport;
  readonly skipped: number;
}

/** The link of the day, by the fixes. Problems stop the run. */
export async function linkOf(bench: Workbench, log: RunLog, { resolved, held }: SessionInForce): Promise<FoundLink> {
  const { invocation, context, diagnostics, progress } = bench;
  progress.update('reading fixes');
  const { session } = resolved;
  const tables = bench.take(tableOptions(invocation, session));
  const reading = { session, setup: held?.setup ?? null, tables, skipsBad: tables.onError === 'skip' };
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const told = {
    rejects,
    report: (problems: readonly Problem[]) => {
      diagnostics.report(problems);
    },
    breathe: bench.breathe,
  };
  const read = await readLink(listOption(invocation, 'fixes'), reading, context, told);
  if (!read.ok && read.problems.length === 0) throw new StopError([]);
  const { count, files } = bench.take(read);
  for (const { source, kind, good, bad } of files) log.input(source, kind, good, bad);
  const link = count.result();
  if (link.withAge === 0)
    bench.take(
      failure(
        errorProblem('link-no-ages', {
          message: `none of ${String(link.epochs)} epochs says how old its corrections were`,
          hint: 'map the column with --columns correction_age_s=HEADER; an empty age is not an age of 0',
        }),
      ),
    );
  return { link, skipped: rejects.count() };
}
