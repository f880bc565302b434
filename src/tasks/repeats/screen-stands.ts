import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { geocentricToLocal, localFrameAt } from '../../core/ellipsoid/local-frame.js';
import { reportedHorizontalSigmaM } from '../../core/observation/stand-tests/acceptance.js';
import { antennaMoving } from '../../core/observation/stand-tests/antenna-moving.js';
import { expectedScatter, mostScatter } from '../../core/observation/averaging/expected-scatter.js';
import { continuesOccupation, extendOccupation, startOccupation } from '../../core/observation/occupation.js';
import type { OccupationState } from '../../core/observation/occupation.js';
import { robustAverage } from '../../core/observation/averaging/robust-average.js';
import { standAgreement } from '../../core/observation/stand-tests/stand-agreement.js';
import { typicalSigmaM } from '../../core/observation/uncertainty/typical-sigma.js';
import { withoutOutliers } from '../../core/observation/averaging/without-outliers.js';
import type { PrecisionModel, PredictedPrecision } from '../../core/planning/precision-model.js';
import type { Fix } from '../../records/points/fix.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { AcceptanceSettings } from '../../records/session.js';
import { entryAt, present } from '../../records/present.js';

/** How often each code was given, by stand (`point@occupation`). */
export type StandCounts = ReadonlyMap<ProblemCode, ReadonlyMap<string, number>>;

/** Takes fixes as they stream past; `finish` closes the last stand. */
export interface StandScreen {
  readonly push: (fix: Fix, reasons: readonly ProblemCode[], baselineM: number | null) => void;
  readonly finish: () => void;
  /** Refusals of single epochs, lone outliers among them. */
  readonly epochs: StandCounts;
  /** What is wrong with whole stands; the count is of accepted epochs. */
  readonly stands: StandCounts;
  readonly standCount: () => number;
  /** By stand, the mean tilt of its accepted epochs, degrees; of stands all of whose accepted epochs state one. */
  readonly tilts: ReadonlyMap<string, number>;
}

/**
 * Screens raw fixes stand by stand without reducing them: which epochs are refused, and which stands have none, too few or
 * too short a time of accepted ones, epochs that disagree, an antenna that moved, or lone outliers.
 *
 * Outliers and motion are sought where no tilt is stated, because the antenna of a leaning pole may move over a tip that
 * does not. Stands are divided as `reduce-points` does.
 *
 * Given: limits; the ellipsoid of the fixes; the planning model. Reference: docs/methods/averaging.md for the screens.
 */
export function createStandScreen(
  limits: AcceptanceSettings,
  ellipsoid: Ellipsoid,
  precision: PrecisionModel,
): StandScreen {
  const epochs = new Map<ProblemCode, Map<string, number>>();
  const stands = new Map<ProblemCode, Map<string, number>>();
  const numbers = new Map<string, number>();
  const tilts = new Map<string, number>();
  let state: OccupationState | null = null;
  let accepted: Fix[] = [];
  let name = '';
  let baselineM: number | null = null;
  let count = 0;

  function close(): void {
    if (state === null) return;
    const epochCount = accepted.reduce((sum, fix) => sum + fix.epochCount, 0);
    const note = (code: ProblemCode): void => {
      add(stands, code, name, epochCount);
    };
    const times = accepted.flatMap(({ epochMs }) => epochMs ?? []);
    const durationS = times.length < 2 ? 0 : (largestOf(times) - smallestOf(times)) / 1000;
    if (accepted.length === 0) note('point-no-accepted-epoch');
    else {
      const tiltDeg = meanTilt(accepted);
      if (tiltDeg !== null) tilts.set(name, tiltDeg);
      if (limits.minEpochs !== null && epochCount < limits.minEpochs) note('point-too-few-epochs');
      if (limits.minDurationS !== null && !state.alone && durationS < limits.minDurationS) note('point-too-short');
      // No baseline is known: the part of the model that does not grow with it.
      const seen = screened(accepted, ellipsoid, precision.at(baselineM ?? 0, null));
      if (seen.outliers > 0) add(epochs, 'epoch-outlier', name, seen.outliers);
      if (seen.reason !== null) note(seen.reason);
    }
    state = null;
    accepted = [];
  }

  return {
    epochs,
    stands,
    tilts,
    standCount: () => count,
    finish: close,
    push(fix, reasons, distanceM) {
      if (state !== null && continuesOccupation(state, fix, limits.occupationGapS)) extendOccupation(state, fix);
      else {
        close();
        state = startOccupation(fix);
        count += 1;
        const number = (numbers.get(fix.pointId) ?? 0) + 1;
        numbers.set(fix.pointId, number);
        name = `${fix.pointId === '' ? 'unnamed' : fix.pointId}@${String(number)}`;
        baselineM = distanceM;
      }
      if (reasons.length === 0) accepted.push(fix);
      for (const code of reasons) add(epochs, code, name, 1);
    },
  };
}

/** The mean tilt of fixes, degrees; null where one of them states none. */
function meanTilt(fixes: readonly Fix[]): number | null {
  let sum = 0;
  for (const { tiltDeg } of fixes) {
    if (tiltDeg === null) return null;
    sum += tiltDeg;
  }
  return sum / fixes.length;
}

function add(counts: Map<ProblemCode, Map<string, number>>, code: ProblemCode, name: string, by: number): void {
  const own = counts.get(code) ?? new Map<string, number>();
  own.set(name, (own.get(name) ?? 0) + by);
  counts.set(code, own);
}

/** Lone outliers, and why the stand makes no point; nothing where a tilt is stated or there are too few epochs. */
function screened(
  fixes: readonly Fix[],
  ellipsoid: Ellipsoid,
  prediction: PredictedPrecision,
): { readonly outliers: number; readonly reason: ProblemCode | null } {
  const [first] = fixes;
  const isPlumb = fixes.every(
    ({ tiltDeg, epochCount, epochMs }) => (tiltDeg === null || tiltDeg === 0) && epochCount === 1 && epochMs !== null,
  );
  if (first === undefined || fixes.length < 2 || !isPlumb) return { outliers: 0, reason: null };
  const { timesS, east, north, up } = localTrack(fixes, first, ellipsoid);
  const expected = expectedScatter({
    prediction,
    spanS: entryAt(timesS, fixes.length - 1),
    pole: null,
    reportedHorizontalM: typicalSigmaM(fixes, reportedHorizontalSigmaM),
    reportedVerticalM: typicalSigmaM(fixes, (fix) => fix.sigmaUpM),
  });
  const average = robustAverage(east, north, up, expected);
  const kept = (values: Float64Array): Float64Array => withoutOutliers(values, average);
  const { isMoving } = antennaMoving(
    { timesS: kept(timesS), east: kept(east), north: kept(north), up: kept(up) },
    mostScatter(expected),
  );
  const disagrees = standAgreement(average) === 'disagree';
  return {
    outliers: average.tooManyOutliers ? 0 : average.outlierCount,
    reason: isMoving ? 'point-antenna-moving' : disagrees ? 'point-epochs-disagree' : null,
  };
}

function localTrack(
  fixes: readonly Fix[],
  first: Fix,
  ellipsoid: Ellipsoid,
): Record<'timesS' | 'east' | 'north' | 'up', Float64Array> {
  const frame = localFrameAt(first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
  const origin = geodeticToGeocentric(first.geodetic, ellipsoid);
  const timesS = Float64Array.from(
    fixes,
    (fix) => (present(fix.epochMs, 'epochMs') - present(first.epochMs, 'epochMs')) / 1000,
  );
  const east = new Float64Array(fixes.length);
  const north = new Float64Array(fixes.length);
  const up = new Float64Array(fixes.length);
  fixes.forEach(({ geodetic }, i) => {
    const at = geodeticToGeocentric(geodetic, ellipsoid);
    const local = geocentricToLocal(frame, { xM: at.xM - origin.xM, yM: at.yM - origin.yM, zM: at.zM - origin.zM });
    east[i] = local.eastM;
    north[i] = local.northM;
    up[i] = local.upM;
  });
  return { timesS, east, north, up };
}
