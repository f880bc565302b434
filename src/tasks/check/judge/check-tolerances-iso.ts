import { largestOf } from '../../../core/numeric/extremes.js';
import {
  ISO_FULL_SERIES,
  ISO_SETS,
  isoAgainstCampaign,
  isoAgainstSigma,
  isoPrecision,
  isoScreen,
} from '../../../core/quality/standards/iso-17123-8.js';
import type {
  IsoMeasurement,
  IsoNominal,
  IsoPrecision,
  IsoScreen,
  IsoTest,
} from '../../../core/quality/standards/iso-17123-8.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';

/** What the field procedure gives. */
export interface IsoResult {
  readonly procedure: 'simplified' | 'full';
  readonly nominal: IsoNominal;
  readonly screen: IsoScreen;
  /** Null for the simplified procedure, and where a set fails the screen. */
  readonly precision: IsoPrecision | null;
  readonly tests: readonly IsoTest[];
  /** Sets still needed for the full procedure; 0 when it is complete. */
  readonly setsMissing: number;
}

/**
 * Runs the simplified procedure for one whole series, the full one for three.
 * Problems: check-too-few-rows for a set with one point only, for no whole series, and for an earlier campaign of fewer
 * than three.
 */
export function checkIso(
  measurements: readonly IsoMeasurement[],
  nominal: IsoNominal,
  other: readonly IsoMeasurement[] | null,
  source: string,
): Outcome<IsoResult> {
  const complete = completeSeries(measurements, source);
  if (!complete.ok) return complete;
  const screen = isoScreen(measurements, nominal);
  const setsMissing = Math.max(0, ISO_FULL_SERIES - complete.value) * ISO_SETS;
  if (setsMissing > 0 || !screen.passes)
    return success({
      procedure: setsMissing > 0 ? 'simplified' : 'full',
      nominal,
      screen,
      precision: null,
      tests: [],
      setsMissing,
    });
  const precision = isoPrecision(measurements);
  const between = other === null ? success([]) : campaignTests(precision, other);
  if (!between.ok) return between;
  const tests = [
    isoAgainstSigma('s_xy against σ_xy', precision.sigmaXyM, precision.degreesXy, nominal.sigmaXyM),
    isoAgainstSigma('s_h against σ_h', precision.sigmaHeightM, precision.degreesHeight, nominal.sigmaHeightM),
    ...between.value,
  ];
  return success({ procedure: 'full', nominal, screen, precision, tests, setsMissing });
}

/** How many series are whole: one at least. */
function completeSeries(measurements: readonly IsoMeasurement[], source: string): Outcome<number> {
  const { sets, lone } = wholeSets(measurements);
  if (lone !== null)
    return failure(
      errorProblem('check-too-few-rows', {
        message: `set ${String(lone.set)} of series ${String(lone.series)} has one point only`,
        where: { source },
        hint: 'a set is both rover points',
      }),
    );
  const counts = [...sets.values()];
  const complete = counts.filter((count) => count >= ISO_SETS).length;
  if (complete > 0) return success(complete);
  const most = largestOf(counts, 0);
  return failure(
    errorProblem('check-too-few-rows', {
      message: `the simplified procedure needs a series of ${String(ISO_SETS)} sets, and the longest has ${String(most)}`,
      where: { source },
      hint: `observe ${String(ISO_SETS - most)} more; nothing is claimed from less`,
    }),
  );
}

/** The full procedure compared with that of an earlier campaign. */
function campaignTests(ours: IsoPrecision, other: readonly IsoMeasurement[]): Outcome<readonly IsoTest[]> {
  const { sets, lone } = wholeSets(other);
  const complete = [...sets.values()].filter((count) => count >= ISO_SETS).length;
  if (lone !== null || complete < ISO_FULL_SERIES)
    return failure(
      errorProblem('check-too-few-rows', {
        message: `a campaign to compare with needs ${String(ISO_FULL_SERIES)} whole series, and the earlier one has ${String(complete)}`,
        hint: 'leave out --campaign, or give the whole file of the earlier full procedure',
      }),
    );
  const theirs = isoPrecision(other);
  return success([
    isoAgainstCampaign('s_xy between campaigns', ours.sigmaXyM, ours.degreesXy, theirs.sigmaXyM, theirs.degreesXy),
    isoAgainstCampaign(
      's_h between campaigns',
      ours.sigmaHeightM,
      ours.degreesHeight,
      theirs.sigmaHeightM,
      theirs.degreesHeight,
    ),
  ]);
}

function wholeSets(measurements: readonly IsoMeasurement[]): {
  readonly sets: ReadonlyMap<number, number>;
  readonly lone: IsoMeasurement | null;
} {
  const points = new Map<string, number>();
  for (const { series, set } of measurements)
    points.set(`${String(series)}:${String(set)}`, (points.get(`${String(series)}:${String(set)}`) ?? 0) + 1);
  const sets = new Map<number, number>();
  let lone: IsoMeasurement | null = null;
  for (const measurement of measurements) {
    const isWhole = points.get(`${String(measurement.series)}:${String(measurement.set)}`) === 2;
    if (!isWhole) lone ??= measurement;
    else if (measurement.point === 1) sets.set(measurement.series, (sets.get(measurement.series) ?? 0) + 1);
  }
  return { sets, lone };
}
