import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { refusals } from '../../../core/observation/stand-tests/acceptance.js';
import type { StandardAcceptance } from '../../../core/quality/standards/standards.js';
import { PROBLEM_CODES } from '../../../records/problem-codes.js';
import type { AcceptanceSettings } from '../../../records/session.js';
import { createStandScreen } from '../../../tasks/repeats/screen-stands.js';
import type { StandCounts } from '../../../tasks/repeats/screen-stands.js';
import { chooseBase } from '../../../tasks/bases/choose-base.js';
import { locateProblem } from '../../../records/problem.js';
import { StopError } from '../../shell/stop.js';
import { openFixes, PLAIN_LOG } from '../../../files/reduction/open-fixes.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import type { RunLog } from '../../shell/run-log.js';
import type { TableOptions } from '../../inputs/table-options.js';
import type { Workbench } from '../../shell/workbench.js';
import type { LoadedCheck } from './check-tolerances-load.js';

/** How many fixes were seen, and what each limit refuses, at which stands. */
export interface FixCounts {
  readonly seen: number;
  readonly accepted: number;
  /** By refusal code, how many at each stand. */
  readonly epochs: StandCounts;
  /** By code, the stands that make no point. */
  readonly stands: StandCounts;
  readonly standCount: number;
  /** By stand, the tilt measured there, degrees. */
  readonly tilts: ReadonlyMap<string, number>;
}

/** Whether any epoch or stand is refused; a lone outlier among others is left out of a mean and refuses nothing. */
export function refusesAny({ seen, accepted, stands }: FixCounts): boolean {
  return accepted < seen || stands.size > 0;
}

/** How many epochs or stands each code refuses. */
export function refusalCounts({ epochs, stands }: FixCounts): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const [code, at] of epochs)
    counts.set(
      code,
      [...at.values()].reduce((sum, count) => sum + count, 0),
    );
  for (const [code, at] of stands) counts.set(code, (counts.get(code) ?? 0) + at.size);
  return counts;
}

/** Stands named beside a code. */
const MOST_NAMED = 6;

/** Applies acceptance limits to raw fixes without reducing them. A standard's limits take the place of the session's. */
export async function countFixes(
  path: string,
  bench: Workbench,
  log: RunLog,
  loaded: LoadedCheck,
  resolved: ResolvedSession,
  tables: TableOptions,
  standard: StandardAcceptance | null,
): Promise<FixCounts> {
  const acceptance =
    standard === null ? resolved.session.acceptance : withStandard(resolved.session.acceptance, standard);
  const opened = bench.take(
    await openFixes(
      path,
      0,
      {
        tables: { ...tables, mapping: { ...resolved.session.columns, ...tables.mapping } },
        kind: null,
        ellipsoid: loaded.ellipsoid,
        referencePoint: resolved.session.rover.referencePoint,
        log: { ...PLAIN_LOG, baseIds: loaded.bases.map(({ settings }) => settings.id) },
      },
      bench.context,
    ),
  );
  const screen = createStandScreen(acceptance, loaded.ellipsoid, loaded.precision);
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
      const distanceM =
        from === undefined
          ? null
          : loaded.geodesic.inverse(
              from.latitudeDeg,
              from.longitudeDeg,
              fix.geodetic.latitudeDeg,
              fix.geodetic.longitudeDeg,
            ).distanceM;
      const reasons = refusals(fix, acceptance, distanceM);
      if (reasons.length === 0) accepted += 1;
      screen.push(fix, reasons, distanceM);
    }
  }
  if (bad > 0 && tables.onError === 'stop') throw new StopError([]);
  log.input(opened.source, opened.kind, seen, bad);
  screen.finish();
  return {
    seen,
    accepted,
    epochs: screen.epochs,
    stands: screen.stands,
    standCount: screen.standCount(),
    tilts: screen.tilts,
  };
}

/** One line for each refusal code, most first, with the stands it was given at, and one of the whole. */
export function fixLines(counts: FixCounts): readonly string[] {
  const lines = (kind: StandCounts, of: (stands: ReadonlyMap<string, number>) => number): readonly string[] =>
    [...kind]
      .sort((a, b) => of(b[1]) - of(a[1]) || (a[0] < b[0] ? -1 : 1))
      .map(([code, stands]) => `  ${String(of(stands))} ${code}: ${PROBLEM_CODES[code].meaning}; ${named(stands)}`);
  const sumOf = (stands: ReadonlyMap<string, number>): number =>
    [...stands.values()].reduce((sum, count) => sum + count, 0);
  const share = counts.seen === 0 ? '' : ` (${formatFixed((100 * counts.accepted) / counts.seen, 1)} %)`;
  const whole = lines(counts.stands, (stands) => stands.size);
  return [
    `fixes: ${String(counts.accepted)} of ${String(counts.seen)} accepted${share}`,
    ...lines(counts.epochs, sumOf),
    `stands: ${String(counts.standCount)}${whole.length === 0 ? '' : ', of which'}`,
    ...whole,
  ];
}

/** The stands with most first: each with its count. */
function named(stands: ReadonlyMap<string, number>): string {
  const ranked = [...stands].sort((a, b) => b[1] - a[1]);
  const shown = ranked.slice(0, MOST_NAMED).map(([name, count]) => `${name} ${String(count)}`);
  return `${shown.join(', ')}${ranked.length > MOST_NAMED ? ` and ${String(ranked.length - MOST_NAMED)} stands more` : ''}`;
}

function withStandard(session: AcceptanceSettings, standard: StandardAcceptance): AcceptanceSettings {
  return {
    ...session,
    solution: ['fixed'],
    maxPdop: standard.maxPdop ?? session.maxPdop,
    minSatellites: standard.minSatellites ?? session.minSatellites,
    maxBaselineM: standard.maxBaselineM ?? session.maxBaselineM,
    // Counted from the first epoch to the last: one second less than epochs of one second take.
    minDurationS: standard.minDurationS === null ? session.minDurationS : standard.minDurationS - 1,
  };
}
