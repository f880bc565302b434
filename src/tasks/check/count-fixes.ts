import { refusals } from '../../core/observation/stand-tests/acceptance.js';
import { createSpan } from '../../core/observation/survey-span.js';
import type { StandardAcceptance } from '../../core/quality/standards/standards.js';
import type { SurveySpan } from '../../records/reports/parts/survey-span.js';
import type { Fix } from '../../records/points/fix.js';
import type { Problem } from '../../records/problem.js';
import type { AcceptanceSettings } from '../../records/session.js';
import { chooseBase } from '../bases/choose-base.js';
import { createStandScreen } from '../repeats/screen-stands.js';
import type { StandCounts } from '../repeats/screen-stands.js';
import type { CheckSetup } from './judge/check-tolerances-setup.js';

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
  /** When they were measured; null: no fix states its time. */
  readonly surveyed: SurveySpan | null;
}

/** Counts fixes one after another, in the order of the file. */
export interface FixCounter {
  /** Counts a fix; the problem, without its place, of one that cannot be counted. */
  readonly push: (fix: Fix) => Problem | null;
  /** After the last. */
  readonly finish: () => FixCounts;
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

/**
 * Applies acceptance limits to raw fixes without reducing them.
 *
 * Given: the limits; the setup. Returned: the counter. Problems of `push`: those of `chooseBase`, where baselines are limited.
 */
export function createFixCounter(
  acceptance: AcceptanceSettings,
  { ellipsoid, precision, geodesic, bases }: Pick<CheckSetup, 'ellipsoid' | 'precision' | 'geodesic' | 'bases'>,
): FixCounter {
  const screen = createStandScreen(acceptance, ellipsoid, precision);
  let seen = 0;
  let accepted = 0;
  const surveyed = createSpan();
  return {
    push(fix) {
      const base = acceptance.maxBaselineM === null ? null : chooseBase(fix, bases);
      if (base !== null && 'code' in base) return base;
      seen += 1;
      surveyed.add({ firstEpochMs: fix.epochMs, lastEpochMs: fix.epochMs });
      const from = base?.origin.geodetic;
      const { latitudeDeg, longitudeDeg } = fix.geodetic;
      const distanceM =
        from === undefined
          ? null
          : geodesic.inverse(from.latitudeDeg, from.longitudeDeg, latitudeDeg, longitudeDeg).distanceM;
      const reasons = refusals(fix, acceptance, distanceM);
      if (reasons.length === 0) accepted += 1;
      screen.push(fix, reasons, distanceM);
      return null;
    },
    finish() {
      screen.finish();
      const { epochs, stands, tilts } = screen;
      return { seen, accepted, epochs, stands, standCount: screen.standCount(), tilts, surveyed: surveyed.result() };
    },
  };
}

/** The acceptance limits of a check: those of a standard take the place of the session's; null: no standard has any. */
export function checkedAcceptance(
  session: AcceptanceSettings,
  standard: StandardAcceptance | null,
): AcceptanceSettings {
  if (standard === null) return session;
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
