import { WGS84 } from '../../../core/ellipsoid/ellipsoid.js';
import { gravestAnswer } from '../../../core/quality/gravest-answer.js';
import { loadHeldBases } from '../../../files/corrections/load-held-bases.js';
import type { HeldBases } from '../../../files/corrections/load-held-bases.js';
import { readStreams } from '../../../files/corrections/read-streams.js';
import type { BroadcastCheck } from '../../../records/corrections/broadcast-check.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { RunAnswer } from '../../../records/run-answer.js';
import { auditFindings, isForReview } from '../../../tasks/corrections/audit-findings.js';
import { holdBroadcasts } from '../../../tasks/corrections/hold-broadcast.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { resolveSession } from '../../inputs/session-settings.js';
import { isGiven, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { broadcastWarnings } from './say/broadcast-text.js';
import { streamOptions } from './stream-options.js';
import type { StreamOptions } from './stream-options.js';
import { writeStreams } from './write-streams.js';

/** Inspects recorded correction streams; see `inspectCorrectionsSpec`. */
export const runInspectCorrections: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const inputs = inputPaths([...invocation.args, ...textsGiven(invocation, ['session', 'geoid'])], context.cwd);
  return withWorkbench(invocation, context, inputs, (bench) => inspect(bench, log), log.failure);
};

async function inspect(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const options = bench.take(streamOptions(invocation));
  if (invocation.args.length === 0)
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: 'no stream is named',
          hint: 'name the recordings, or - for standard input',
        }),
      ),
    );
  const held = await heldBases(bench, log);
  const audit = await auditOf(bench, log, options, held);
  const checks = held === null ? [] : holdBroadcasts(audit, held.bases, options.toleranceM);
  const findings = auditFindings(audit);
  await writeStreams(bench, {
    audit,
    checks,
    answer: answerOf(checks, findings),
    hours: options.hours,
    grid: held?.grid ?? null,
  });
  diagnostics.report([...findings, ...broadcastWarnings(checks)]);
  const answer = answerOf(checks, findings);
  diagnostics.say(
    `${String(audit.stations.length)} ${audit.stations.length === 1 ? 'station' : 'stations'}, ${String(audit.frames.good)} frames${held === null ? '' : `; ${String(held.bases.length)} ${held.bases.length === 1 ? 'base' : 'bases'} of the session held against them`}: ${answer.answer}`,
  );
  log.method({
    id: 'inspect-corrections',
    name: 'frames by their check; coordinates as sent; differences in the local frame of the base',
    source: { key: 'RTCM-10403', locator: 'docs/methods/corrections.md' },
  });
  return endWith(answer, invocation, log);
}

/** The bases of --session or --job, with the systems to show what was sent in; null without them. */
async function heldBases(bench: Workbench, log: RunLog): Promise<HeldBases | null> {
  const { invocation, context } = bench;
  if (!isGiven(invocation, 'session') && !isGiven(invocation, 'job') && !isGiven(invocation, 'system')) return null;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  const loaded = await loadHeldBases(resolved);
  if (!loaded.ok) return bench.take(loaded);
  if (loaded.value.setup !== null) log.models(loaded.value.setup);
  return loaded.value;
}

async function auditOf(
  bench: Workbench,
  log: RunLog,
  { dateMs }: StreamOptions,
  held: HeldBases | null,
): Promise<CorrectionAudit> {
  const { invocation, context, progress } = bench;
  progress.update('reading');
  const { count, files } = bench.take(await readStreams(invocation.args, context, bench.breathe));
  for (const { source, frames } of files) log.input(source, 'correction stream', frames.good, frames.failed);
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

/** No where a base differs; review where something is to be looked at. */
function answerOf(checks: readonly BroadcastCheck[], findings: readonly Problem[]): RunAnswer {
  const looked = findings.filter(isForReview);
  const reasons = new Map<string, number>();
  for (const code of [...checks.flatMap((check) => check.reasons), ...looked.map(({ code: own }) => own)])
    reasons.set(code, (reasons.get(code) ?? 0) + 1);
  const verdicts = new Map(
    (['within', 'review', 'no'] as const).map((word) => [
      word,
      checks.filter(({ verdict }) => verdict === word).length + (word === 'review' ? looked.length : 0),
    ]),
  );
  const answer = gravestAnswer([...checks.map(({ verdict }) => verdict), ...looked.map(() => 'review' as const)]);
  return { answer, verdicts, reasons };
}
