import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { auditFindings } from '../../../tasks/corrections/audit-findings.js';
import { holdBroadcasts } from '../../../tasks/corrections/hold-broadcast.js';
import { streamsAnswer } from '../../../tasks/corrections/streams-answer.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { broadcastWarnings } from './say/broadcast-text.js';
import { auditOf, heldBases } from './stream-inputs.js';
import { streamOptions } from './stream-options.js';
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
  const answer = streamsAnswer(checks, findings);
  await writeStreams(bench, {
    audit,
    checks,
    answer,
    hours: options.hours,
    grid: held?.grid ?? null,
  });
  diagnostics.report([...findings, ...broadcastWarnings(checks)]);
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
