import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { auditFindings } from '../../../tasks/corrections/audit-findings.js';
import { holdBroadcasts } from '../../../tasks/corrections/hold-broadcast.js';
import { linkFindings } from '../../../tasks/corrections/link/link-findings.js';
import { withSides } from '../../../tasks/corrections/link/outage-sides.js';
import { streamsAnswer } from '../../../tasks/corrections/streams-answer.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { isGiven, listOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { auditOf, linkOf, sessionInForce } from './stream-inputs.js';
import { broadcastWarnings } from './say/broadcast-text.js';
import { streamOptions } from './stream-options.js';
import { summaryLine } from './say/summary-line.js';
import { writeCorrections } from './write-corrections.js';
import { writeLinkTables } from './write-link-tables.js';

/** Inspects recorded correction streams and the link of a day; see `inspectCorrectionsSpec`. */
export const runInspectCorrections: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const sidecars = [...listOption(invocation, 'fixes'), ...textsGiven(invocation, ['session', 'geoid'])];
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  return withWorkbench(invocation, context, inputs, (bench) => inspect(bench, log), log.failure);
};

async function inspect(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const options = bench.take(streamOptions(invocation));
  checkAsked(bench);
  const inForce = await sessionInForce(bench, log);
  const audit = invocation.args.length === 0 ? null : await auditOf(bench, log, options, inForce);
  const counted = isGiven(invocation, 'fixes') ? await linkOf(bench, log, inForce) : null;
  const link = counted === null || audit === null ? counted : withSides(counted, audit);
  const { held } = inForce;
  const checks = audit === null || held === null ? [] : holdBroadcasts(audit, held.bases, options.toleranceM);
  const findings = [...(audit === null ? [] : auditFindings(audit)), ...(link === null ? [] : linkFindings(link))];
  const answer = streamsAnswer(checks, findings);
  const found = { audit, checks, link, answer, hours: options.hours, grid: inForce.held?.grid ?? null };
  await writeCorrections(bench, found);
  if (link !== null) await writeLinkTables(bench, link);
  diagnostics.report([...findings, ...broadcastWarnings(checks)]);
  diagnostics.say(summaryLine(found, inForce.held?.bases.length ?? null));
  log.method({
    id: 'inspect-corrections',
    name: 'frames by their check; coordinates as sent; differences in the local frame of the base; ages as the fixes state them',
    source: { key: 'RTCM-10403', locator: 'docs/methods/corrections.md' },
  });
  return endWith(answer, invocation, log);
}

/** Refuses a run that has nothing to look at, and tables of fixes where none are named. */
function checkAsked(bench: Workbench): void {
  const { invocation } = bench;
  const hasFixes = isGiven(invocation, 'fixes');
  if (invocation.args.length === 0 && !hasFixes)
    bench.take(
      failure(
        errorProblem('usage-invalid', {
          message: 'no stream and no fixes are named',
          hint: 'name the recordings, or - for standard input, and fixes with --fixes',
        }),
      ),
    );
  const table = (['outages', 'availability'] as const).find((name) => isGiven(invocation, name));
  if (table !== undefined && !hasFixes)
    bench.take(
      failure(
        errorProblem('usage-conflict', {
          message: `--${table} is of fixes, and none are named`,
          hint: 'add --fixes FILE',
        }),
      ),
    );
}
