import { linkPlaces, readLink } from '../../../files/corrections/read-link.js';
import type { EpochSession, LinkInput } from '../../../files/corrections/read-link.js';
import { PLAIN_LOG } from '../../../files/reduction/open-fixes.js';
import type { LinkReport } from '../../../records/corrections/link-report.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { BaseSettings } from '../../../records/session.js';
import { fixesOfJob } from '../../inputs/fixes-of-job.js';
import { tableOptions } from '../../inputs/table-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { isGiven, listOption, textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import type { Workbench } from '../../shell/workbench.js';
import { OF_FIXES } from './check-asked.js';
import type { SessionInForce } from './stream-inputs.js';

/** The link of a day, and how many bad rows of its fixes were left out on request. */
export interface FoundLink {
  readonly link: LinkReport;
  readonly skipped: number;
}

/** Fixes to be counted, and what they are counted with. */
interface AskedLink {
  readonly session: EpochSession;
  readonly inputs: readonly LinkInput[];
  /** Whether the run ends where they say nothing of the link; they are the job's, and streams are looked at, where it does not. */
  readonly isWanted: boolean;
}

/**
 * The link of the day, by the fixes that are named, else by those of the job: of its days whose files are there. Null: neither has
 * any, or those of the job say nothing of a link, which is said. Problems stop the run.
 */
export async function linkOf(bench: Workbench, log: RunLog, inForce: SessionInForce): Promise<FoundLink | null> {
  const asked = isGiven(bench.invocation, 'fixes') ? namedFixes(bench, inForce) : await jobFixes(bench, log, inForce);
  if (asked === null) return null;
  const { invocation, diagnostics, progress } = bench;
  progress.update('reading fixes');
  const tables = bench.take(tableOptions(invocation, inForce.resolved.session));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const told = {
    rejects,
    report: (problems: readonly Problem[]) => {
      diagnostics.report(problems);
    },
    breathe: bench.breathe,
  };
  const read = await readLink(asked.inputs, { session: asked.session, skipsBad: tables.onError === 'skip' }, told);
  if (!read.ok && read.problems.length === 0) throw new StopError([]);
  const { count, files } = bench.take(read);
  for (const { source, kind, good, bad } of files) log.input(source, kind, good, bad);
  const link = count.result();
  if (link.withAge > 0) return { link, skipped: rejects.count() };
  const silent = errorProblem('link-no-ages', {
    message: `none of ${String(link.epochs)} epochs says how old its corrections were`,
    hint: 'map the column with --columns correction_age_s=HEADER; an empty age is not an age of 0',
  });
  return leftOut(bench, asked.isWanted, silent);
}

/** The files of --fixes, all read as the session says. */
function namedFixes(bench: Workbench, { resolved, held }: SessionInForce): AskedLink {
  const { invocation, context } = bench;
  const { session } = resolved;
  const setup = held?.setup ?? null; // Without a session there is no system.
  const settings = {
    tables: bench.take(tableOptions(invocation, session)),
    kind: null,
    places: linkPlaces(setup),
    referencePoint: session.rover.referencePoint,
    log: { ...PLAIN_LOG, baseIds: session.bases.map(({ id }) => id), spans: session.bases },
  };
  const inputs = listOption(invocation, 'fixes').map((path) => ({ path, settings, surroundings: context, setup }));
  return { session, inputs, isWanted: true };
}

/** What days of one link must share: it has one limit. */
const SHARED = ['acceptance', 'tolerance', 'precision'] as const;

/** The fixes of the days of --job, each day read as it says. */
async function jobFixes(bench: Workbench, log: RunLog, { held }: SessionInForce): Promise<AskedLink | null> {
  if (!isGiven(bench.invocation, 'job')) return null;
  const isWanted = bench.invocation.args.length === 0 || OF_FIXES.some((name) => isGiven(bench.invocation, name));
  const setup = held?.setup ?? null; // The job may name no system.
  const days = await fixesOfJob(bench, log, linkPlaces(setup), isWanted);
  const [first] = days;
  if (first === undefined) return null;
  for (const { id, session } of days) {
    const other = SHARED.find((name) => JSON.stringify(session[name]) !== JSON.stringify(first.session[name]));
    if (other === undefined) continue;
    return leftOut(
      bench,
      isWanted,
      errorProblem('usage-conflict', {
        message: `[${other}] of day ${id} is not that of day ${first.id}, and one link has one limit`,
        hint: 'name the fixes of one day with --fixes, and its session with --session',
      }),
    );
  }
  const inputs = days.flatMap(({ id, paths, settings, surroundings }) => {
    const own = setup === null ? null : { ...setup, bases: setup.bases.filter((base) => isOfDay(base.settings, id)) };
    return paths.map((path) => ({ path, settings, surroundings, setup: own }));
  });
  return { session: first.session, inputs, isWanted };
}

/** Whether a set-up is one that all days share, or that of a day. */
function isOfDay({ day }: BaseSettings, id: string): boolean {
  return day === undefined || day === id;
}

/** Why there is no link: the end of the run where one is wanted, else a line. */
function leftOut(bench: Workbench, isWanted: boolean, problem: Problem): null {
  if (isWanted) return bench.take(failure(problem));
  bench.diagnostics.say(`the fixes of the job are not counted: ${problem.message}`);
  return null;
}
