import { createSpan } from '../../../core/observation/survey-span.js';
import { geoidTestWords } from '../../../core/geoid/geoid-test-value.js';
import { InternalError } from '../../../records/internal-error.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { PointVerdict, ReducedPoint } from '../../../records/points/reduced-point.js';
import type {
  ReductionReport,
  ReportExtreme,
  ReportFrame,
  ReportGeoid,
  ReportOccupation,
  ReportRepeat,
} from '../../../records/reports/reduction-report.js';
import type { RepeatPair } from '../../repeats/repeat-pairs.js';
import { createDayLinks } from '../../corrections/link/day-links.js';
import type { LinkedDay } from '../../corrections/link/day-links.js';
import { createEpochTimeline } from '../epochs/epoch-timeline.js';
import { withReasons } from '../../repeats/disputed-stands.js';
import { occupationName } from '../../join/held-points.js';
import type { FinishedPoints } from '../../join/held-points.js';
import { keepMostNeeded } from '../../repeats/keep-most-needed.js';
import type { ReductionSetup } from '../reduction-setup.js';
import type { Extreme, ReductionTotals } from './reduction-totals.js';
import type { ReducedOccupation } from '../reduction-working.js';
import { reportBases } from '../../bases/report-bases.js';
import { thinOccupation } from '../epochs/thin-occupation.js';

/** What the page says that the reduction does not know. */
export type ReportSurroundings = Pick<
  ReductionReport,
  | 'pointsRepeated'
  | 'pointsInDispute'
  | 'day'
  | 'edits'
  | 'title'
  | 'crew'
  | 'toolVersion'
  | 'timeMs'
  | 'command'
  | 'answer'
  | 'rowsSkipped'
  | 'conditions'
  | 'files'
  | 'warnings'
  | 'worked'
  | 'skies'
> & { readonly epochYear: number | null };

/** What is only known at the end: pairs, null where repeats are not listed pair by pair; occupations whose uncertainty the day changed, and those in dispute. */
export type ReportEnds = Pick<FinishedPoints, 'pairs' | 'revised' | 'disputed'>;

/** Gathers a reduction for its page, in memory that does not grow with the run. */
export interface ReductionReportCollector {
  addOccupation(reduced: ReducedOccupation, day: LinkedDay): void;
  addPoint(point: ReducedPoint): void;
  report(setup: ReductionSetup, totals: ReductionTotals, ends: ReportEnds, about: ReportSurroundings): ReductionReport;
}

/** Rows of the table of points; a page stays well under two megabytes. */
const MOST_POINTS = 2000;
const MOST_OCCUPATIONS = 40;
/** So many are held until the repeats have said which of them need a look. */
const MOST_HELD = 200;
const MOST_EPOCHS_EACH = 600;
const MOST_REPEATS = 400;

/** Points and occupations that need a look are kept before others. */
const NEED: Readonly<Record<PointVerdict, number>> = { accepted: 0, review: 2, rejected: 3 };

/** An empty collector. */
export function createReductionReportCollector(): ReductionReportCollector {
  const points = keepMostNeeded<ReducedPoint>(MOST_POINTS);
  const occupations = keepMostNeeded<ReportOccupation>(MOST_HELD);
  const timeline = createEpochTimeline();
  const links = createDayLinks();
  const surveyed = createSpan();
  const farthest = createFarthest();
  const doubts = createDoubts();
  let pointCount = 0;
  let occupationCount = 0;
  return {
    addOccupation(reduced, day) {
      const { point } = reduced;
      occupationCount += 1;
      timeline.add(reduced.working.epochs);
      links.add(reduced, day);
      surveyed.add(point);
      const need = needOf(point.verdict, point.epochsRejected > 0);
      if (occupations.wants(need)) occupations.add(need, thinOccupation(reduced, MOST_EPOCHS_EACH));
      farthest.add(point);
    },
    addPoint(point) {
      pointCount += 1;
      doubts.add(point);
      if (points.wants(NEED[point.verdict])) points.add(NEED[point.verdict], point);
    },
    report(setup, totals, { pairs, revised, disputed }, { epochYear, ...about }) {
      const refusals = [...totals.refusals].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
      const reasonsOf = doubts.reasonsOf(disputed);
      const marked = <T extends Pick<ReducedPoint, 'pointId' | 'occupation' | 'reasons' | 'verdict'>>(own: T): T =>
        withReasons(own, reasonsOf.get(occupationName(own)) ?? []);
      const kept = points.items().map(marked);
      const drawn = neededOccupations(occupations.items().map((own) => marked(revisedBy(revised, own))));
      return {
        ...about,
        verdicts: { ...totals.points },
        epochsUsed: totals.epochs.used,
        epochsRefused: totals.epochs.refused,
        farthest: extreme(totals.farthest()),
        worstCircle95: extreme(totals.worstCircle95()),
        worstVertical95: extreme(totals.worstVertical95()),
        tolerance: setup.tolerance,
        acceptance: setup.acceptance,
        frame: frameOf(setup, epochYear),
        geoid: geoidOf(setup),
        bases: reportBases(setup, farthest.result(), totals.bases),
        points: kept,
        pointsLeftOut: pointCount - kept.length,
        occupations: drawn,
        occupationsLeftOut: occupationCount - drawn.length,
        refusals,
        surveyed: surveyed.result(),
        links: links.result(),
        timeline: timeline.result(refusals.map(([code]): ProblemCode => code)),
        repeats: pairs === null ? null : neededPairs(pairs).map(repeatOf),
        repeatsLeftOut: Math.max(0, (pairs?.length ?? 0) - MOST_REPEATS),
      };
    },
  };
}

/** Reasons of occupations that are known once all are: they come beside the rows, or where points are joined with them. */
function createDoubts(): {
  readonly add: (point: ReducedPoint) => void;
  readonly reasonsOf: (disputed: FinishedPoints['disputed']) => ReadonlyMap<string, readonly ProblemCode[]>;
} {
  const inDispute = new Map<string, readonly ProblemCode[]>();
  return {
    add(point) {
      if (point.reasons.includes('point-repeat-disagrees')) inDispute.set(occupationName(point), point.reasons);
    },
    reasonsOf: (disputed) =>
      new Map([...inDispute, ...disputed.map((stand) => [occupationName(stand), stand.reasons] as const)]),
  };
}

/** Those to look at first, once the repeats have said which these are. */
function neededOccupations(held: readonly ReportOccupation[]): readonly ReportOccupation[] {
  const kept = keepMostNeeded<ReportOccupation>(MOST_OCCUPATIONS);
  for (const own of held) kept.add(needOf(own.verdict, own.refusedCount > 0), own);
  return kept.items();
}

function needOf(verdict: PointVerdict, hasRefused: boolean): number {
  return verdict === 'accepted' && hasRefused ? 1 : NEED[verdict];
}

/** The longest baseline of each set-up. */
function createFarthest(): {
  readonly add: (point: Pick<ReducedPoint, 'baseline' | 'setupKey'>) => void;
  readonly result: () => ReadonlyMap<string, number>;
} {
  const farthestM = new Map<string, number>();
  return {
    add({ baseline, setupKey }) {
      if (baseline === null || setupKey === null) return;
      // The first of a base is farther than none.
      farthestM.set(setupKey, Math.max(farthestM.get(setupKey) ?? 0, baseline.distanceM));
    },
    result: () => farthestM,
  };
}

function revisedBy(revised: FinishedPoints['revised'], own: ReportOccupation): ReportOccupation {
  const point = revised.get(occupationName(own));
  return point === undefined
    ? own
    : { ...own, verdict: point.verdict, reasons: point.reasons, circle95M: point.summary?.circle95M ?? null };
}

/** Those that disagree before others. */
function neededPairs(pairs: readonly RepeatPair[]): readonly RepeatPair[] {
  const kept = keepMostNeeded<RepeatPair>(MOST_REPEATS);
  for (const pair of pairs) kept.add(pair.disagrees ? 1 : 0, pair);
  return kept.items();
}

function extreme(found: Extreme | null): ReportExtreme | null {
  return found === null ? null : { valueM: found.value, pointId: found.pointId };
}

function frameOf({ grid, fixesSystem, shift }: ReductionSetup, epochYear: number | null): ReportFrame {
  if (grid === null) throw new InternalError('a page is asked for without a grid');
  const nameOf = ({ code, name }: { readonly code: string | null; readonly name: string }): string =>
    code === null ? name : `${code} ${name}`;
  return {
    gridName: nameOf(grid),
    gridMethod: grid.projection.method,
    axes: grid.axes,
    fixesName: nameOf(fixesSystem),
    epochYear,
    shift: shift === null ? null : shiftWords(shift),
    pointsName: nameOf(grid.base),
  };
}

function shiftWords({ code, name, direction, epochYear, file }: NonNullable<ReductionSetup['shift']>): string {
  const prefix = code === null ? '' : `${code} `;
  const test = file?.test == null ? '' : `; ${file.test}`;
  const from = file === null ? '' : `, from ${file.name} (SHA-256 ${file.sha256}${test})`;
  return `${prefix}${name}${direction === 'inverse' ? ', applied backwards' : ''}${epochYear === null ? '' : `, at epoch ${String(epochYear)}`}${from}`;
}

function geoidOf({ geoid, geoidSigmaM }: ReductionSetup): ReportGeoid | null {
  return geoid === null
    ? null
    : {
        name: geoid.grid.name,
        interpolation: geoid.interpolation,
        sha256: geoid.grid.sha256,
        test: geoidTestWords(geoid.grid),
        sigmaM: geoidSigmaM,
      };
}

function repeatOf({ first, second, test, disagrees }: RepeatPair): ReportRepeat {
  return {
    pointId: first.pointId,
    first: first.occupation,
    second: second.occupation,
    difference: { eastM: test.differenceEastM, northM: test.differenceNorthM, upM: test.differenceUpM },
    horizontalStatistic: test.horizontalStatistic,
    verticalStatistic: test.verticalStatistic,
    disagrees,
    separationS: test.separationS,
    tooSoon: test.tooSoon,
  };
}
