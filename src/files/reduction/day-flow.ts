import { createSpareFile } from '../../io/bytes/output/spare-file.js';
import { pieceSize, WAY } from '../../io/host/way.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { RecordList } from '../../records/record-list.js';
import { occupationOfDay } from '../../tasks/job/occupation-name.js';
import type { JobEdits } from '../../tasks/job/job-edits.js';
import { missingOccupation } from '../../tasks/reduce/doubts/missing-occupation.js';
import type { NamedOccupation } from '../../tasks/reduce/doubts/missing-occupation.js';
import { createRunDoubts } from '../../tasks/reduce/doubts/run-doubts.js';
import { createOccupationCounter } from '../../tasks/reduce/occupations/occupation-counter.js';
import type { OccupationCounter } from '../../tasks/reduce/occupations/occupation-counter.js';
import { PACK } from '../../tasks/reduce/packing/packed-records.js';
import { ROW_SIZES } from '../../tasks/reduce/packing/number-rows.js';
import type { RowSizes } from '../../tasks/reduce/packing/number-rows.js';
import { createPackedReduced } from '../../tasks/reduce/packing/reduced-packing.js';
import type { PackedReduced } from '../../tasks/reduce/packing/reduced-packing.js';
import { createReducer } from '../../tasks/reduce/reduce-points.js';
import type { Reducer, ReductionListener } from '../../tasks/reduce/reduce-points.js';
import type { SinglePoint } from '../../tasks/reduce/single/reduce-single.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../tasks/reduce/totals/reduction-totals.js';
import type { ReducedOccupation } from '../../tasks/reduce/reduction-working.js';
import { createRepeatKeeper, KEEPER_SIZES } from '../../tasks/repeats/repeat-keeper.js';
import type { KeeperSizes, RepeatKeeper } from '../../tasks/repeats/repeat-keeper.js';
import type { LateRefusal, RowPartition } from './reduction-flow.js';

/** An occupation to explain, and what it was reduced with. */
export interface ExplainedOccupation {
  readonly reduced: ReducedOccupation;
  readonly setup: ReductionSetup;
}

/** One day of a run: a reducer, and what it counts and holds. A run without a job is one day. */
export interface DayFlow {
  /** Null: of no job. */
  readonly id: string | null;
  readonly setup: ReductionSetup;
  readonly reducer: Reducer;
  readonly counter: OccupationCounter;
  /** What comparing repeats needs of points that are not held. */
  readonly keeper: RepeatKeeper;
  /** Of this day. */
  readonly totals: ReductionTotals;
  /** Points held until the last is known, under their names in the run. */
  readonly held: RecordList<ReducedPoint> & Pick<PackedReduced, 'close'>;
  /** What only the whole of the day can raise; each said once. */
  readonly doubts: () => readonly Problem[];
  /** A named occupation that no epoch belongs to. */
  readonly miss: (occupation: NamedOccupation) => void;
}

export interface DayParts {
  readonly id: string | null;
  readonly setup: ReductionSetup;
  readonly share: RowPartition | null;
  readonly edits: JobEdits | null;
  /** Rows are checked, and nothing is reduced. */
  readonly isOnlyChecked: boolean;
  readonly totals: ReductionTotals;
  readonly isHeld: boolean;
  readonly carriedCount: number;
  readonly remaps: readonly (readonly number[] | null)[];
  /** Counts and writes a point. */
  readonly release: (point: ReducedPoint) => void;
  readonly report: (problems: readonly Problem[]) => void;
  /** Rows that an error cost after they had been read. */
  readonly onRefused: (refusal: LateRefusal) => void;
  readonly onOccupation: (reduced: ReducedOccupation) => void;
  /** Nobody asks for the working of occupations. */
  readonly isWorkingUnasked: boolean;
}

const SIZES: KeeperSizes = {
  chunk: pieceSize(KEEPER_SIZES.chunk, 3),
  keptBytes: pieceSize(KEEPER_SIZES.keptBytes, 0),
};

const HELD_SIZES: RowSizes = {
  chunk: pieceSize(ROW_SIZES.chunk, 4),
  near: pieceSize(ROW_SIZES.near, 2),
  keptBytes: pieceSize(ROW_SIZES.keptBytes, 0),
};

/** Points as they come, in memory. */
function looseReduced(): PackedReduced {
  const points: ReducedPoint[] = [];
  return Object.assign(points, { close: () => undefined });
}

/** The flow of a day: occupations are named, left out where the job says so, counted, and held or released. */
export function createDayFlow(parts: DayParts): DayFlow {
  const { id, setup, share, edits, totals, isHeld, remaps } = parts;
  const counter = createOccupationCounter();
  const keeper = createRepeatKeeper(setup, WAY === 'general' ? null : createSpareFile(), SIZES);
  const doubts = createRunDoubts(setup);
  const held = WAY === 'general' ? looseReduced() : createPackedReduced(createSpareFile(), HELD_SIZES);

  const keep = (point: ReducedPoint): void => {
    if (id !== null) totals.addPoint(point);
    if (isHeld) held.push(point);
    else {
      // A part of the rows compares nothing.
      if (share === null) keeper.add(point);
      parts.release(point);
    }
  };
  const isLeftOut = (pointId: string, occupation: string): boolean =>
    id !== null && edits?.isExcluded(pointId, id, occupation) === true;
  const unreduced = createOccupationCounter();
  const reducer = createReducer(
    setup,
    {
      onPoint(made) {
        if (isLeftOut(made.point.pointId, made.point.occupation)) return;
        const reduced = id === null ? made : { ...made, point: inJob(made.point, id) };
        totals.addOccupation(reduced);
        parts.onOccupation(reduced);
        doubts.add(reduced);
        keep(inColumnsOfRun(reduced.point, remaps));
      },
      ...singleListener(parts, (single) => {
        doubts.begun();
        keep(inColumnsOfRun(single.point, remaps));
      }),
      onProblems: problemListener(parts),
      onPassed(first, lastMs) {
        doubts.passed(first, lastMs);
        // An exclusion must be of something, reduced or not.
        if (parts.isOnlyChecked) isLeftOut(first.pointId, String(unreduced.next(first.pointId)));
      },
    },
    counter,
    parts.isOnlyChecked ? () => false : share?.owns,
    WAY === 'general' ? Infinity : pieceSize(PACK, 3),
  );
  return {
    id,
    setup,
    reducer,
    counter,
    keeper,
    totals,
    held,
    doubts: () =>
      doubts.problems(totals).map((problem) => (id === null ? problem : locateProblem(problem, { path: `day ${id}` }))),
    miss(occupation) {
      const point = missingOccupation(occupation, counter, parts.carriedCount);
      if (!isLeftOut(point.pointId, point.occupation)) keep(id === null ? point : inJob(point, id));
    },
  };
}

function problemListener({ share, report, onRefused }: DayParts): ReductionListener['onProblems'] {
  return (problems, fixes) => {
    // A row refused by itself may stand in another part; of the occupations only our own were reduced.
    const first = fixes.at(0);
    if (share !== null && first !== undefined && !share.holds(first)) return;
    report(problems);
    if (fixes.length > 0) onRefused({ fixes, problems });
  };
}

/** What takes points of one fix without their working: nothing where it is asked for, or the points of a job get other names. */
function singleListener(
  { id, isWorkingUnasked, totals }: DayParts,
  take: (single: SinglePoint) => void,
): Pick<ReductionListener, 'onSingle'> {
  if (id !== null || !isWorkingUnasked || WAY === 'general') return {};
  return {
    onSingle(single) {
      totals.addSingle(single);
      take(single);
    },
  };
}

function inJob(point: ReducedPoint, day: string): ReducedPoint {
  return { ...point, occupation: occupationOfDay(day, point.occupation) };
}

function inColumnsOfRun(point: ReducedPoint, remaps: DayParts['remaps']): ReducedPoint {
  const remap = remaps[point.place.sourceIndex] ?? null;
  if (remap === null) return point;
  // A row may be shorter than its header.
  return { ...point, passThrough: remap.map((index) => (index < 0 ? '' : (point.passThrough[index] ?? ''))) };
}
