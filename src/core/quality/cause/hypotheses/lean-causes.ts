import { RADIANS_PER_DEGREE } from '../../../numeric/angle-units.js';
import type { CauseContext } from '../cause-context.js';
import type { CauseDay, CausePoint } from '../cause-day.js';
import type { CauseModel } from '../cause-model.js';
import { observationOf, standName, standOf } from '../stand-columns.js';
import { across, fitWhitened } from '../whitener.js';

/** Pole length used where none is stated, metres. An assumption; it matters only for the drop of a lean. */
const USUAL_POLE_M = 2;
/** A pole held to a bubble and left leaning: one sigma of its lean, degrees. An assumption. */
const UNSEEN_LEAN_DEG = 3;
/** Beyond this it would have been seen. An assumption. */
const LARGEST_UNSEEN_LEAN_DEG = 8;
/** Odds against the measured tilt of a stand having been left out or taken off the wrong way, where tilts are measured. An assumption. */
const TILT_LEFT_OUT_ODDS = 5;
/** Most that an instrument which measures tilt is leant where the session sets no limit, degrees. An assumption. */
const LARGEST_LEAN_DEG = 30;
/** A tilt as it is measured, together with its change over a stand: one sigma, degrees. An assumption. */
const MEASURED_TILT_DEG = 1;
/** Beyond so many of these a tilt that is known is not the lean. An assumption. */
const MOST_TILT_SIGMAS = 3;

/**
 * The cause of a lean that was not taken off: in one occupation, a plan offset r with the drop L − √(L² − r²).
 *
 * A lean is believed by what was possible at that stand. Where its tilt is known: that tilt left out, or twice it where it
 * was taken off the wrong way, at the odds against either; or what the measurement may be wrong by. Where it is not, and
 * the session measures tilts: up to the largest tilt accepted, at the same odds. Where none is measured: a pole held to a
 * bubble leans unseen by a few degrees only.
 */
export function leanCauses(context: CauseContext): readonly CauseModel[] {
  if (!context.hasHorizontal) return [];
  const { day, whitener, values, taken } = context;
  const models: CauseModel[] = [];
  day.points.forEach((point, index) => {
    const [east, north, up] = [0, 1, 2].map((axis) => observationOf(context, index, axis)) as [number, number, number];
    if (east < 0 || north < 0) return;
    const poleM = point.poleLengthM ?? USUAL_POLE_M;
    const columns = [whitener.column(east), whitener.column(north)];
    const lean = fitWhitened(
      values,
      columns.map((column) => across(column, taken)),
    );
    if (lean === null) return;
    const leanM = Math.hypot(lean.estimates[0] as number, lean.estimates[1] as number);
    if (leanM > poleM * Math.sin(largestLean(point, day) * RADIANS_PER_DEGREE)) return;
    const dropM = poleM - Math.sqrt(poleM * poleM - leanM * leanM);
    const fixed = up < 0 ? null : whitener.column(up).map((value) => -dropM * value);
    models.push({
      cause: 'tilt',
      subject: standName(context, index),
      fixed,
      columns,
      isWhitened: true,
      choices: day.points.length,
      stand: standOf(context, index),
      implausibility: ([e = 0, n = 0]) => implausibilityOf(leanDegOf(Math.hypot(e, n), poleM), point, day),
      read: ([e = 0, n = 0], [sigmaE = 0, sigmaN = 0]) => {
        const offset = Math.hypot(e, n);
        if (offset >= poleM) return null;
        return [
          { name: 'lean', value: leanDegOf(offset, poleM), sigma: null, unit: 'deg' },
          { name: 'east', value: e, sigma: sigmaE, unit: 'm' },
          { name: 'north', value: n, sigma: sigmaN, unit: 'm' },
        ];
      },
    });
  });
  return models;
}

function leanDegOf(offsetM: number, poleM: number): number {
  return Math.asin(Math.min(1, offsetM / poleM)) / RADIANS_PER_DEGREE;
}

/** The largest lean that was possible at a stand, degrees, at most a right angle. */
function largestLean({ tiltDeg }: CausePoint, { isTiltMeasured, largestLeanDeg }: CauseDay): number {
  if (tiltDeg != null) return Math.min(90, 2 * tiltDeg + MOST_TILT_SIGMAS * MEASURED_TILT_DEG);
  return isTiltMeasured ? (largestLeanDeg ?? LARGEST_LEAN_DEG) : LARGEST_UNSEEN_LEAN_DEG;
}

/** −2 ln of how plausible a lean is beside none. */
function implausibilityOf(leanDeg: number, { tiltDeg }: CausePoint, { isTiltMeasured }: CauseDay): number {
  const leftOut = 2 * Math.log(TILT_LEFT_OUT_ODDS);
  if (tiltDeg != null) {
    const beside = (expectedDeg: number): number => ((leanDeg - expectedDeg) / MEASURED_TILT_DEG) ** 2;
    return tiltDeg === 0 ? beside(0) : Math.min(beside(0), leftOut + Math.min(beside(tiltDeg), beside(2 * tiltDeg)));
  }
  const unseen = (leanDeg / UNSEEN_LEAN_DEG) ** 2;
  return isTiltMeasured ? Math.min(unseen, leftOut) : unseen;
}
