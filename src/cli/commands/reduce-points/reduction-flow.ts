import { createPointsWriter, pointsFrame } from '../../../files/points/points-writer.js';
import type { PointsWriter } from '../../../files/points/points-writer.js';
import { writtenNames } from '../../../files/points/written-names.js';
import { carriedNames, renamedColumnNotes } from '../../../io/tables/columns/carried-names.js';
import type { CsvWriteOptions } from '../../../io/csv/csv-write.js';
import { pointColumns } from '../../../io/tables/points/point-columns.js';
import type { ReducedPoint } from '../../../records/points/reduced-point.js';
import { createOccupationCounter } from '../../../tasks/reduce/occupations/occupation-counter.js';
import type { OccupationCounter } from '../../../tasks/reduce/occupations/occupation-counter.js';
import { createReducer } from '../../../tasks/reduce/reduce-points.js';
import type { Reducer } from '../../../tasks/reduce/reduce-points.js';
import { createReductionTotals } from '../../../tasks/reduce/reduction-totals.js';
import type { ReductionTotals } from '../../../tasks/reduce/reduction-totals.js';
import type { ReducedOccupation } from '../../../tasks/reduce/reduction-working.js';
import { createRepeatKeeper } from '../../../tasks/repeats/repeat-keeper.js';
import type { RepeatKeeper } from '../../../tasks/repeats/repeat-keeper.js';
import { createRunDoubts } from '../../../tasks/reduce/doubts/run-doubts.js';
import type { RunDoubts } from '../../../tasks/reduce/doubts/run-doubts.js';
import { flagOption } from '../../shell/command-spec.js';
import type { ReductionReportWriter } from './say/reduction-report.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { createEpochsWriter } from '../../outputs/epochs-writer.js';
import type { Workbench } from '../../shell/workbench.js';
import { explainTarget } from './options/explain-target.js';
import type { ExplainTarget } from './options/explain-target.js';
import type { PreparedRun } from './prepare-run.js';
import type { ReductionOutputs } from './say/reduction-outputs.js';
import type { LateRefusal } from './say/reject-late.js';

/** The way of a run from fixes to what is written: a reducer and all that it hands points and problems to. */
export interface ReductionFlow {
  readonly reducer: Reducer;
  readonly writer: PointsWriter;
  readonly columns: readonly string[];
  readonly csv: CsvWriteOptions;
  readonly counter: OccupationCounter;
  readonly keeper: RepeatKeeper;
  readonly totals: ReductionTotals;
  readonly doubts: RunDoubts;
  readonly explain: ExplainTarget | null;
  readonly explained: readonly ReducedOccupation[];
  /** Points held until the last is known; empty where none are. */
  readonly held: readonly ReducedPoint[];
  readonly isHeld: boolean;
  readonly carriedCount: number;
  /** Whether a header stands before the points. */
  readonly hasHeader: boolean;
  /** By input, where its other columns stand among those of the first; null: in the same places. */
  readonly remaps: (readonly number[] | null)[];
  /** A point in its place: written, counted and compared, or held. */
  readonly keep: (point: ReducedPoint) => void;
  /** Counts and writes a point that had been held. */
  readonly release: (point: ReducedPoint) => void;
  /** Rows that were refused after they had been read, since this was last asked. */
  readonly takeLate: () => readonly LateRefusal[];
  /** Whether any row was refused so far by the reducer. */
  readonly hasFailed: () => boolean;
  readonly begin: () => Promise<void>;
  /** Writes what is ready where it is more than so many bytes, while the next is made. */
  readonly flush: (least: number) => Promise<void>;
  readonly end: () => Promise<void>;
}

/** Opens the way of a run. `names`: the columns of the inputs that pass through. */
export function openFlow(
  bench: Workbench,
  run: PreparedRun,
  outputs: ReductionOutputs,
  page: ReductionReportWriter | null,
  names: readonly string[],
): ReductionFlow {
  const { invocation, diagnostics } = bench;
  const { setup, resolved, asked, share } = run;
  const gridPair = [setup.grid.axes[0].columnName, setup.grid.axes[1].columnName] as const;
  const csv = csvWriteOptions(invocation);
  const own = pointColumns(gridPair);
  const carried = carriedNames(writtenNames(bench.format, own), names);
  diagnostics.report(renamedColumnNotes(carried));
  const writer = createPointsWriter(
    bench.format,
    gridPair,
    carried.names,
    pointsFrame(setup, resolved.session.system?.epochYear ?? null),
    csv,
  );
  const epochsWriter = createEpochsWriter(setup.sources, csv);
  const totals = createReductionTotals();
  const counter = createOccupationCounter();
  const explain = explainTarget(invocation);
  const isHeld = asked.isCombined || asked.isEstimated;
  const keeper = createRepeatKeeper(setup);
  const doubts = createRunDoubts(setup);
  const held: ReducedPoint[] = [];
  const explained: ReducedOccupation[] = [];
  const remaps: (readonly number[] | null)[] = [];
  let epochText = '';
  let failed = false;
  let late: LateRefusal[] = [];

  const release = (point: ReducedPoint): void => {
    totals.addPoint(point);
    page?.addPoint(point);
    if (outputs.points !== null) writer.add(point);
  };
  const keep = (point: ReducedPoint): void => {
    if (isHeld) {
      held.push(point);
      return;
    }
    keeper.add(point);
    release(point);
  };
  const reducer = createReducer(
    setup,
    {
      onPoint(reduced) {
        totals.addOccupation(reduced);
        page?.addOccupation(reduced);
        if (outputs.epochs !== null) epochText += epochsWriter.occupation(reduced);
        if (isExplained(explain, reduced.point)) explained.push(reduced);
        doubts.add(reduced);
        const remap = remaps[reduced.point.place.sourceIndex] ?? null;
        keep(remap === null ? reduced.point : remapped(reduced.point, remap));
      },
      onProblems(problems, fixes) {
        // A row refused by itself may stand in another part; of the occupations only our own were reduced.
        const first = fixes.at(0);
        if (share !== null && first !== undefined && !share.holds(first)) return;
        diagnostics.report(problems);
        if (fixes.length > 0) {
          failed = true;
          late.push({ fixes, problems });
        }
      },
      onPassed: doubts.passed,
    },
    counter,
    share?.owns,
  );

  const isHeaded = !flagOption(invocation, 'omitHeader');
  const hasHeader = isHeaded || bench.format !== 'csv';
  let writing: Promise<void> = Promise.resolve();
  const flush = async (least: number): Promise<void> => {
    // `take` leaves the last piece untouched until the second after it.
    if (writer.size() > least && outputs.points !== null) {
      await writing;
      writing = outputs.points.write(writer.take());
    }
    if (epochText.length > least && outputs.epochs !== null) await outputs.epochs.write(epochText);
    if (epochText.length > least) epochText = '';
  };

  return {
    reducer,
    writer,
    columns: [...own.map(({ name }) => name), ...carried.names],
    csv,
    counter,
    keeper,
    totals,
    doubts,
    explain,
    explained,
    held,
    isHeld,
    hasHeader,
    remaps,
    keep,
    release,
    flush,
    carriedCount: carried.names.length,
    takeLate: () => {
      const taken = late;
      late = [];
      return taken;
    },
    hasFailed: () => failed,
    async begin() {
      if (hasHeader) await outputs.points?.write(writer.begin());
      if (isHeaded) await outputs.epochs?.write(epochsWriter.begin());
    },
    async end() {
      await flush(0);
      await writing;
      await outputs.points?.write(writer.end());
    },
  };
}

function isExplained(target: ExplainTarget | null, { pointId, occupation }: ReducedPoint): boolean {
  return (
    target !== null && target.pointId === pointId && (target.occupation === null || target.occupation === occupation)
  );
}

function remapped(point: ReducedPoint, remap: readonly number[]): ReducedPoint {
  // A row may be shorter than its header.
  return { ...point, passThrough: remap.map((index) => (index < 0 ? '' : (point.passThrough[index] ?? ''))) };
}
