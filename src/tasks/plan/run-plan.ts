import { requiredSeparationS } from '../../core/observation/repeats/repeat-test.js';
import type { Caution } from '../../core/planning/caution.js';
import type { WorkWindow } from '../../core/planning/time/earliest-in-windows.js';
import type { TimetableControl } from '../../core/planning/choose-control.js';
import type { TimetablePoint } from '../../core/planning/time/timetable.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { RunAnswer } from '../../records/runs/run-answer.js';
import { placeBases } from './place-bases.js';
import type { PlacedBases } from './place-bases.js';
import { planCautions, siteCautions } from './plan-cautions.js';
import type { PlanTime } from './plan-cautions.js';
import { planDays, timetablePoint } from './plan-days.js';
import type { PlanDaysSettings } from './plan-days.js';
import type { PlanDay } from './plan-days.js';
import { planStream } from './plan-stream.js';
import type { PlanStream, StreamAsked } from './plan-stream.js';
import type { PlanSetup, PlanTarget } from './targets/plan-target.js';
import { createPlanTotals } from './plan-totals.js';
import type { PlanTotals } from './plan-totals.js';
import { predictTargets } from './targets/predict-targets.js';
import type { PlannedTarget } from './targets/predict-targets.js';
import { toleranceRanges } from './tolerance-ranges.js';
import type { ToleranceRange } from './tolerance-ranges.js';

/** What a plan is made of. */
export interface PlanRequest {
  readonly setup: PlanSetup;
  /** At least one; see `planTargets`. */
  readonly targets: readonly PlanTarget[];
  /** Rows of the input that were left out because of errors. */
  readonly rowsRejected: number;
  readonly time: PlanTime;
  /** Planned hours of work. */
  readonly hours: number;
  /** The day to be laid out, with the control to be visited in it; null: none is. */
  readonly day: {
    readonly settings: PlanDaysSettings;
    readonly control: readonly TimetableControl[];
    /** Times in which points may be occupied, by point; one that is not there at any time. Null: all at any time. */
    readonly windows: ReadonlyMap<string, readonly WorkWindow[]> | null;
  } | null;
  /** The correction stream whose size is asked for; null: none is. */
  readonly stream: StreamAsked | null;
}

/** A plan whose bases are placed; its targets are predicted one by one. */
export interface PlanRun {
  readonly placed: PlacedBases;
  readonly ranges: readonly ToleranceRange[];
  /** The targets in their order, each with what the plan says of it; to be gone through once. */
  readonly predicted: () => Generator<PlannedTarget>;
  /** What all of them add up to; to be asked for after the last. Problems: those of `planStream` and `planDays`. */
  readonly end: () => Outcome<PlanEnd>;
}

/** What a plan comes to. */
export interface PlanEnd {
  readonly totals: PlanTotals;
  readonly stream: PlanStream | null;
  /** Null: no day is laid out. */
  readonly days: readonly PlanDay[] | null;
  readonly cautions: readonly Caution[];
  readonly answer: RunAnswer;
}

/**
 * Places the bases and begins to predict. Problems: those of `placeBases`.
 *
 * @example
 * // One work point 10 km from a given base of 10 mm with a pole of 4 mm: 31.829 mm, and 40 mm are asked for.
 * const geodesic = createGeodesic(WGS84);
 * const base = { id: 'B', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
 * const own = { horizontal: null, vertical: null, correlationHorizontalS: null, correlationVerticalS: null };
 * const prediction = {
 *   precision: { conditions: 'normal', combine: 'rss', ...own },
 *   pole: { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
 *   poleSigmas: { poleSigmaM: 0.002, plumbSigmaDeg: (0.002 * 180) / Math.PI, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 },
 *   ...{ baseSigmaHorizontalM: 0.01, baseSigmaVerticalM: 0.02, geoidSigmaM: null, epochCount: 1 },
 * };
 * const limits = { separationS: null, minEpochs: 1, maxEpochs: 60, maxOccupations: 2 };
 * const setup = { geodesic, prediction, conditions: 'normal', limits, siting: { kind: 'given', base }, baseErrorM: null };
 * const place = { ...geodesic.direct(-31.5, 21.4, 90, 10e3), id: 'P', ellipsoidalHeightM: 1000, kind: 'point' };
 * const targets = [{ ...place, toleranceHorizontalM: 0.04, toleranceVerticalM: null }];
 * const asked = { rowsRejected: 0, time: { startMs: null, month: null }, hours: 8, day: null, stream: null };
 * const run = startPlan({ setup, targets, ...asked }).value;
 * const [planned] = [...run.predicted()];
 * [planned.at.uncertainty.circle95M, run.end().value.answer.answer]; // [0.03183, 'within']
 */
export function startPlan(request: PlanRequest): Outcome<PlanRun> {
  const { setup, targets } = request;
  const places = placeBases(setup, targets);
  if (!places.ok) return places;
  const placed = places.value;
  const totals = createPlanTotals();
  const work = new Map<string, TimetablePoint[]>();
  return success(
    {
      placed,
      ranges: toleranceRanges(setup, targets),
      *predicted() {
        for (const planned of predictTargets(setup, targets, placed)) {
          totals.add(planned);
          if (request.day !== null && planned.target.kind === 'point')
            addWork(work, planned, setup, request.day.windows);
          yield planned;
        }
      },
      end: () => endOf(request, placed, totals, work),
    },
    places.problems,
  );
}

function endOf(
  { setup, rowsRejected, time, hours: hoursAsked, day, stream: asked }: PlanRequest,
  placed: PlacedBases,
  totals: PlanTotals,
  work: ReadonlyMap<string, readonly TimetablePoint[]>,
): Outcome<PlanEnd> {
  const days = day === null ? success(null) : planDays(setup.geodesic, placed.bases, work, day.control, day.settings);
  if (!days.ok) return days;
  // A day that no hours end says itself how long it is.
  const hours = day?.settings.latestEndS !== null ? hoursAsked : hoursOf(days.value, day.settings.startS, hoursAsked);
  const stream =
    asked === null
      ? success(null)
      : planStream(hours === hoursAsked ? asked : { ...asked, hours }, totals.longestBaselineM());
  if (!stream.ok) return stream;
  const cautions = planCautions(
    placed,
    siteCautions(setup.siting, placed),
    time,
    hours,
    stream.value,
    // No day is laid out.
    days.value ?? [],
  );
  return success({ totals, stream: stream.value, days: days.value, cautions, answer: answerOf(totals, rowsRejected) }, [
    ...stream.problems,
    ...days.problems,
  ]);
}

const TENTH_S = 360;

/** From the beginning of a day that is laid out to the end of its last visit, in tenths of an hour; where there is none, as was said. */
function hoursOf(days: readonly PlanDay[] | null, startS: number, otherwise: number): number {
  let longestS = 0;
  // Without days there is none to be long.
  for (const { timetable } of days ?? [])
    for (const { endS } of timetable.visits) longestS = Math.max(longestS, endS - startS);
  return longestS === 0 ? otherwise : Math.ceil(longestS / TENTH_S) / 10;
}

/** No where a target is outside or a row was left out, review where a doubtful base would have to be measured again. */
function answerOf(totals: PlanTotals, rowsRejected: number): RunAnswer {
  return {
    answer: totals.outside() > 0 || rowsRejected > 0 ? 'no' : totals.reobserve() > 0 ? 'review' : 'within',
    verdicts: new Map([
      ['within', totals.targets() - totals.outside()],
      ['outside', totals.outside()],
    ]),
    reasons: totals.reasons,
  };
}

/** A work point goes into the day of its own base, and a tie into that of the other base as well. */
function addWork(
  work: Map<string, TimetablePoint[]>,
  planned: PlannedTarget,
  { limits }: PlanSetup,
  windows: ReadonlyMap<string, readonly WorkWindow[]> | null,
): void {
  const separationS = (baselineM: number): number => limits.separationS ?? requiredSeparationS(baselineM);
  const point = timetablePoint(planned, separationS, windows?.get(planned.target.id));
  const add = (baseId: string, own: TimetablePoint): void => {
    work.set(baseId, [...(work.get(baseId) ?? []), own]);
  };
  add(planned.base.id, point);
  for (const other of new Set(planned.tieBases)) add(other, { ...point, occupations: 1 });
}
