import { auditFindings } from '../../../tasks/corrections/audit-findings.js';
import { basesOfStreams, holdBroadcasts } from '../../../tasks/corrections/hold-broadcast.js';
import { linkFindings } from '../../../tasks/corrections/link/link-findings.js';
import { withSides } from '../../../tasks/corrections/link/outage-sides.js';
import { streamsAnswer } from '../../../tasks/corrections/streams-answer.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { listOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { checkAsked } from './check-asked.js';
import { linkOf } from './link-inputs.js';
import { auditOf, sessionInForce } from './stream-inputs.js';
import { broadcastWarnings } from './say/broadcast-text.js';
import { streamOptions } from './stream-options.js';
import { summaryLine } from './say/summary-line.js';
import { writeCorrectionsReport } from './write-corrections-report.js';
import { sayColumns, writeCorrections } from './write-corrections.js';
import { sayLinkColumns, writeLinkTables } from './write-link-tables.js';

/** Inspects recorded correction streams and the link of a day; see `inspectCorrectionsSpec`. */
export const runInspectCorrections: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const sidecars = [...listOption(invocation, 'fixes'), ...textsGiven(invocation, ['session', 'geoid', 'job'])];
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  return withWorkbench(invocation, context, inputs, (bench) => inspect(bench, log), log.failure);
};

async function inspect(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const options = bench.take(streamOptions(invocation));
  bench.take(checkAsked(invocation));
  sayLinkColumns(bench);
  const inForce = await sessionInForce(bench, log);
  sayColumns(bench, invocation.args.length > 0, inForce.held?.grid ?? null); // Without a session no grid.
  const audit = invocation.args.length === 0 ? null : await auditOf(bench, log, options, inForce);
  const counted = await linkOf(bench, log, inForce);
  const link = counted === null || audit === null ? (counted?.link ?? null) : withSides(counted.link, audit);
  const { held } = inForce;
  const ofStreams = audit === null || held === null ? null : basesOfStreams(audit, held.bases);
  const checks = audit === null || ofStreams === null ? [] : holdBroadcasts(audit, ofStreams.bases, options.toleranceM);
  for (const day of ofStreams === null ? [] : ofStreams.otherDays)
    diagnostics.say(`bases of day ${day} are not held: no stream is of its date`);
  const findings = [...(audit === null ? [] : auditFindings(audit)), ...(link === null ? [] : linkFindings(link))];
  // Without fixes no row was left out.
  const answer = streamsAnswer(checks, findings, counted?.skipped ?? 0);
  const basesHeld = ofStreams?.bases.length ?? held?.bases.length ?? null; // Without a session none.
  const found = { audit, checks, link, answer, hours: options.hours, grid: held?.grid ?? null };
  await writeCorrections(bench, found);
  if (link !== null) await writeLinkTables(bench, link);
  diagnostics.report([...findings, ...broadcastWarnings(checks)]);
  diagnostics.say(summaryLine(found, basesHeld));
  const about = { findings, basesHeld, toleranceM: options.toleranceM, rowsSkipped: counted?.skipped ?? 0 }; // Without fixes none.
  await writeCorrectionsReport(bench, log, found, { ...about, title: inForce.resolved.session.title });
  log.method({
    id: 'inspect-corrections',
    name: 'frames by their check; coordinates as sent; differences in the local frame of the base; ages as the fixes state them',
    source: { key: 'RTCM-10403', locator: 'docs/methods/corrections.md' },
  });
  return endWith(answer, invocation, log);
}
