import type { Caution } from '../../../core/planning/caution.js';
import type { PlanPlace, PlanPoint } from '../../../core/planning/plan-point.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import { InternalError } from '../../../records/internal-error.js';
import type { PlanReport, PlanReportStream, PlanReportTarget } from '../../../records/reports/plan-report.js';
import type { PageFacts } from '../../../records/reports/parts/page-facts.js';
import type { ReportPlace } from '../../../records/reports/reduction-report.js';
import { localAxes } from '../../pages/report-axes.js';
import { keepMostNeeded } from '../../repeats/keep-most-needed.js';
import { curvesOf, ringsOf } from './plan-lines.js';
import type { PlanDay } from '../plan-days.js';
import type { PlanSetup } from '../targets/plan-target.js';
import type { PlacedBases } from '../place-bases.js';
import type { PlanTotals } from '../plan-totals.js';
import type { PlannedTarget, WayOut } from '../targets/predict-targets.js';
import type { ToleranceRange } from '../tolerance-ranges.js';
import { systemLabel } from '../../../core/grid/systems/system-label.js';

/** What the end of a plan hands to its page. */
export interface PlanResults {
  readonly setup: PlanSetup;
  readonly grid: GridSystem | null;
  readonly bases: readonly PlanPoint[];
  readonly ranges: readonly ToleranceRange[];
  readonly siting: Pick<PlacedBases, 'found' | 'excluded'>;
  readonly totals: PlanTotals;
  /** Null: no timetable was asked for. */
  readonly days: readonly PlanDay[] | null;
  /** Days asked for at each base; null: no timetable. */
  readonly dayCount: number | null;
  readonly stream: PlanReportStream | null;
  readonly cautions: readonly Caution[];
}

/** Gathers a plan for its page, in memory that does not grow with the plan. */
export interface PlanReportCollector {
  add(planned: PlannedTarget): void;
  report(results: PlanResults, about: Pick<PlanReport, keyof PageFacts | 'title' | 'answer' | 'frameName'>): PlanReport;
}

const MOST_TARGETS = 2000;
const MOST_VISITS = 1000;
const MOST_CANDIDATES = 200;
const WAYS: Readonly<Record<WayOut, string>> = {
  none: '',
  longer: 'longer occupation',
  repeat: 'repeats apart in time',
  'nearer-base': 'a nearer base',
  tolerance: 'cannot be met at any distance',
};

/**
 * An empty collector for one grid, or for none: places are then distances from the first base. Given: the place that the page is of, which is never left
 * out; null: of the whole plan.
 */
export function createPlanReportCollector(onlyPoint: string | null): PlanReportCollector {
  const kept = keepMostNeeded<PlannedTarget>(MOST_TARGETS);
  return {
    add(planned) {
      const need = planned.target.id === onlyPoint ? 2 : planned.verdict === 'outside' ? 1 : 0;
      if (kept.wants(need)) kept.add(need, planned);
    },
    report(results, about) {
      const { setup, grid, bases, ranges, siting, totals, days, dayCount, stream, cautions } = results;
      const first = bases[0];
      if (first === undefined) throw new InternalError('a plan without a base');
      const placeOf = grid === null ? polarPlaces(setup, first) : gridPlaces(grid);
      const visits = days === null ? null : visitsOf(days);
      return {
        ...about,
        systemName: grid === null ? `distances and azimuths from base ${first.id}` : systemLabel(grid),
        axes: grid?.axes ?? localAxes('of the base'),
        conditions: setup.conditions,
        epochCount: setup.prediction.epochCount,
        bases: bases.map((base) => ({ ...base, place: placeOf(base), ...servedBy(base, totals) })),
        targets: kept.items().map((planned) => targetOf(planned, placeOf)),
        targetCount: totals.targets(),
        outsideCount: totals.outside(),
        withoutHeightCount: totals.withoutHeight(),
        withinBy: [...totals.withinBy].map(([conditions, count]) => ({ conditions, count })),
        tolerances: tolerancesOf(ranges),
        rings: ringsOf(setup, bases, ranges, placeOf),
        ranking: rankingOf(siting, bases),
        curves: curvesOf(setup, first, ranges, totals.longestBaselineM()),
        visits: visits === null ? null : visits.slice(0, MOST_VISITS),
        visitCount: visits?.length ?? 0,
        // No day is laid out.
        leftOut: (days ?? []).flatMap(({ baseId, timetable }) =>
          timetable.leftOut.map((left) => ({ baseId, ...left })),
        ),
        fitsNoDay: fitsNoDay(days ?? [], dayCount), // Not asked for.
        stream,
        cautions: cautions.map(({ text, source }) => ({ text, source })),
      };
    },
  };
}

/** Whether some base has work left, and fewer days than asked for. */
function fitsNoDay(days: readonly PlanDay[], dayCount: number | null): boolean {
  return days.some(({ baseId }) => {
    const own = days.filter((day) => day.baseId === baseId);
    const last = own.at(-1);
    return last !== undefined && last.timetable.leftOut.length > 0 && dayCount !== null && own.length < dayCount;
  });
}

/** What a base serves. */
function servedBy(
  { id }: PlanPoint,
  { bases }: PlanTotals,
): Pick<PlanReport['bases'][number], 'targets' | 'outside' | 'farthestM' | 'farthestId'> {
  const own = bases.get(id);
  return own === undefined
    ? { targets: 0, outside: 0, farthestM: null, farthestId: null }
    : { targets: own.targets, outside: own.outside, farthestM: own.farthestM, farthestId: own.farthestId };
}

/** Every candidate by its rank, where the best of them was looked for. */
function rankingOf({ found, excluded }: PlanResults['siting'], bases: readonly PlanPoint[]): PlanReport['ranking'] {
  if (found.kind !== 'best') return null;
  return {
    excluded,
    candidates: found.ranking.slice(0, MOST_CANDIDATES).map((own) => ({
      id: own.candidate.id,
      isChosen: bases.some(({ id }) => id === own.candidate.id),
      worstRatio: own.worstRatio,
      worstDistanceM: own.worstDistanceM,
      served: own.servedCount,
      worstPlaces: own.worstPoints,
      cellular: own.candidate.cellular,
      skyScore: own.candidate.skyScore,
      cost: own.candidate.cost,
    })),
  };
}

function visitsOf(days: readonly PlanDay[]): NonNullable<PlanReport['visits']> {
  return days.flatMap(({ baseId, timetable }) =>
    timetable.visits.map(({ pointId, role, occupation, driveM, arriveS, startS, endS }) => ({
      baseId,
      pointId,
      role,
      occupation,
      driveM,
      arriveS,
      startS,
      endS,
    })),
  );
}

function tolerancesOf(ranges: readonly ToleranceRange[]): PlanReport['tolerances'] {
  return ranges.map(({ toleranceHorizontalM, toleranceVerticalM, targets, byConditions }) => ({
    horizontalM: toleranceHorizontalM,
    verticalM: toleranceVerticalM,
    targets,
    ranges: byConditions.map(({ conditions, range }) => ({
      conditions,
      rangeM: range.rangeM,
      decidedBy: range.decidedBy,
    })),
  }));
}

function gridPlaces(grid: GridSystem): (place: PlanPlace) => ReportPlace | null {
  return ({ latitudeDeg, longitudeDeg }) => {
    const pair = { first: NaN, second: NaN };
    return grid.forward(latitudeDeg, longitudeDeg, pair) === 'ok' ? pair : null;
  };
}

/** Azimuth and distance from a base laid out flat: distances from that base are true. */
function polarPlaces({ geodesic }: PlanSetup, base: PlanPoint): (place: PlanPlace) => ReportPlace | null {
  return ({ latitudeDeg, longitudeDeg }) => {
    const { distanceM, azimuthDeg } = geodesic.inverse(base.latitudeDeg, base.longitudeDeg, latitudeDeg, longitudeDeg);
    // There is no direction over no distance: any will do.
    const angle = (azimuthDeg ?? 0) * RADIANS_PER_DEGREE;
    return { first: distanceM * Math.sin(angle), second: distanceM * Math.cos(angle) };
  };
}

function targetOf(
  { target, base, prediction, at, verdict, wayOut }: PlannedTarget,
  placeOf: (place: PlanPlace) => ReportPlace | null,
): PlanReportTarget {
  return {
    id: target.id,
    place: placeOf(target),
    isPoint: target.kind === 'point',
    baseId: base.id,
    baselineM: prediction.baselineM,
    toleranceHorizontalM: target.toleranceHorizontalM,
    toleranceVerticalM: target.toleranceVerticalM,
    circle95M: at.uncertainty.circle95M,
    vertical95M: at.uncertainty.vertical95M,
    isWithin: verdict === 'within',
    wayOut: WAYS[wayOut],
    isHopeless: wayOut === 'tolerance',
  };
}
