import { formatFixed } from '../../core/numeric/format-fixed.js';
import { refusals } from '../../core/observation/acceptance.js';
import type { StandardAcceptance } from '../../core/quality/standards.js';
import { PROBLEM_CODES } from '../../records/problem-codes.js';
import type { ProblemCode } from '../../records/problem-codes.js';
import type { AcceptanceSettings } from '../../records/session.js';
import { chooseBase } from '../../tasks/choose-base.js';
import { locateProblem } from '../../records/problem.js';
import { StopError } from '../stop.js';
import { openFixes } from '../fix-inputs.js';
import type { ResolvedSession } from '../session-settings.js';
import type { RunLog } from '../run-log.js';
import type { TableOptions } from '../table-options.js';
import type { Workbench } from '../workbench.js';
import type { LoadedCheck } from './check-tolerances-load.js';

/** How many fixes were seen, and how many each limit refuses. */
export interface FixCounts {
  readonly seen: number;
  readonly accepted: number;
  readonly refused: ReadonlyMap<ProblemCode, number>;
}

/** Applies acceptance limits to raw fixes without reducing them. A standard's limits take the place of the session's. */
export async function countFixes(path: string, bench: Workbench, log: RunLog, loaded: LoadedCheck, resolved: ResolvedSession, tables: TableOptions, standard: StandardAcceptance | null): Promise<FixCounts> {
  const acceptance = standard === null ? resolved.session.acceptance : withStandard(resolved.session.acceptance, standard);
  const opened = bench.take(await openFixes(path, 0, { tables: { ...tables, mapping: { ...resolved.session.columns, ...tables.mapping } }, kind: null, occupations: null, ellipsoid: loaded.ellipsoid, referencePoint: resolved.session.rover.referencePoint }, bench.context));
  const refused = new Map<ProblemCode, number>();
  let seen = 0;
  let accepted = 0;
  let bad = 0;
  for await (const item of opened.input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    bench.diagnostics.report(block.warnings);
    for (const row of block.rejected) bench.diagnostics.report(row.problems);
    bad += block.rejected.length;
    for (const fix of block.fixes) {
      seen += 1;
      const base = acceptance.maxBaselineM === null ? null : chooseBase(fix, loaded.bases);
      if (base !== null && 'code' in base) {
        bench.diagnostics.report([locateProblem(base, { source: opened.source.name, line: fix.place.line })]);
        seen -= 1;
        bad += 1;
        continue;
      }
      const from = base?.origin.geodetic;
      const distanceM = from === undefined ? null : loaded.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, fix.geodetic.latitudeDeg, fix.geodetic.longitudeDeg).distanceM;
      const reasons = refusals(fix, acceptance, distanceM);
      if (reasons.length === 0) accepted += 1;
      for (const code of reasons) refused.set(code, (refused.get(code) ?? 0) + 1);
    }
  }
  if (bad > 0 && tables.onError === 'stop') throw new StopError([]);
  log.input(opened.source, opened.kind, seen, bad);
  return { seen, accepted, refused };
}

/** One line for each refusal code, most first, and one of the whole. */
export function fixLines(counts: FixCounts): readonly string[] {
  const codes = [...counts.refused].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
  const share = counts.seen === 0 ? '' : ` (${formatFixed((100 * counts.accepted) / counts.seen, 1)} %)`;
  return [`fixes: ${String(counts.accepted)} of ${String(counts.seen)} accepted${share}`, ...codes.map(([code, count]) => `  ${String(count)} ${code}: ${PROBLEM_CODES[code].meaning}`)];
}

function withStandard(session: AcceptanceSettings, standard: StandardAcceptance): AcceptanceSettings {
  return {
    ...session,
    solutions: ['fixed'],
    maxPdop: standard.maxPdop ?? session.maxPdop,
    minSatellites: standard.minSatellites ?? session.minSatellites,
    maxBaselineM: standard.maxBaselineM ?? session.maxBaselineM,
  };
}
