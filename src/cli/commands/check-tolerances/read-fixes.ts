import type { StandardAcceptance } from '../../../core/quality/standards/standards.js';
import type { LoadedCheck } from '../../../files/check/load-check-setup.js';
import type { FixPlaces } from '../../../io/tables/fixes/fix-row.js';
import { openFixes, PLAIN_LOG } from '../../../files/reduction/open-fixes.js';
import { locateProblem } from '../../../records/problem.js';
import type { Session } from '../../../records/session.js';
import { checkedAcceptance, createFixCounter } from '../../../tasks/check/count-fixes.js';
import type { FixCounts } from '../../../tasks/check/count-fixes.js';
import { tableOptions } from '../../inputs/table-options.js';
import { textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import type { Workbench } from '../../shell/workbench.js';

/** The fixes of --fixes, counted by the limits of the session or, with one, of the standard; null: none are named. */
export async function countFixes(
  bench: Workbench,
  log: RunLog,
  setup: LoadedCheck,
  session: Session,
  places: FixPlaces,
  standard: StandardAcceptance | null,
): Promise<FixCounts | null> {
  const path = textOption(bench.invocation, 'fixes');
  if (path === null) return null;
  const tables = bench.take(tableOptions(bench.invocation, session));
  const opened = bench.take(
    await openFixes(
      path,
      0,
      {
        tables,
        kind: null,
        places,
        referencePoint: session.rover.referencePoint,
        log: { ...PLAIN_LOG, baseIds: setup.bases.map(({ settings }) => settings.id) },
      },
      bench.context,
    ),
  );
  const { source, kind, input } = opened;
  const counter = createFixCounter(checkedAcceptance(session.acceptance, standard), setup);
  let bad = 0;
  for await (const item of input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    bench.diagnostics.report(block.warnings);
    for (const row of block.rejected) bench.diagnostics.report(row.problems);
    bad += block.rejected.length;
    for (const fix of block.fixes) {
      const problem = counter.push(fix);
      if (problem === null) continue;
      bench.diagnostics.report([locateProblem(problem, { source: source.name, line: fix.place.line })]);
      bad += 1;
    }
  }
  if (bad > 0 && tables.onError === 'stop') throw new StopError([]);
  const counts = counter.finish();
  log.input(source, kind, counts.seen, bad);
  return counts;
}
