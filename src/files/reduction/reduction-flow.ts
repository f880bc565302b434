import { carriedNames, renamedColumnNotes } from '../../io/tables/columns/carried-names.js';
import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import type { Sink } from '../../io/bytes/output/sink.js';
import { pointColumns } from '../../io/tables/points/point-columns.js';
import type { Fix } from '../../records/points/fix.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { Problem } from '../../records/problem.js';
import type { RecordList } from '../../records/record-list.js';
import type { JobEdits } from '../../tasks/job/job-edits.js';
import type { LinkedDay } from '../../tasks/corrections/link/day-links.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';
import { createReductionTotals } from '../../tasks/reduce/totals/reduction-totals.js';
import type { ReductionTotals } from '../../tasks/reduce/totals/reduction-totals.js';
import type { ReducedOccupation } from '../../tasks/reduce/reduction-working.js';
import { createPointsWriter, pointsFrame } from '../points/points-writer.js';
import type { OutputFormat, PointsWriter } from '../points/points-writer.js';
import { writtenNames } from '../points/written-names.js';
import { createDayFlow } from './day-flow.js';
import type { DayFlow, ExplainedOccupation } from './day-flow.js';

/** Fixes that could be read and not reduced. */
export interface LateRefusal {
  readonly fixes: RecordList<Fix>;
  readonly problems: readonly Problem[];
}

/** A part of the rows of one file: whether a row, and an occupation that begins with one, belongs to it. */
export interface RowPartition {
  readonly holds: (fix: Fix) => boolean;
  readonly owns: (first: Fix) => boolean;
}

/** The point to explain; every occupation of it where none is named. */
export interface ExplainTarget {
  readonly pointId: string;
  readonly occupation: string | null;
}

/** Writes every epoch of an occupation. */
export interface OccupationWriter {
  readonly begin: () => string;
  readonly occupation: (reduced: ReducedOccupation) => string;
}

/** What a run hands its occupations and points to besides the writer: a page. */
export interface ReductionAudience {
  readonly addOccupation: (reduced: ReducedOccupation, day: LinkedDay) => void;
  readonly addPoint: (point: ReducedPoint) => void;
}

/** What a run writes to; null where nothing is asked for. */
export interface FlowOutputs {
  readonly points: Sink | null;
  readonly epochs: Sink | null;
}

export interface FlowParts {
  readonly format: OutputFormat;
  readonly csv: CsvWriteOptions;
  /** Whether a header stands before tables of text. */
  readonly isHeaded: boolean;
  /** The points are shown otherwise once all are written, which needs their header. */
  readonly isViewed: boolean;
  readonly areEpochsViewed: boolean;
  /** Whether points are held until the last is known. */
  readonly isHeld: boolean;
  /** Columns of the inputs that pass through. */
  readonly names: readonly string[];
  readonly epochYear: number | null;
  /** Of the first day: every other has its grid and frame. */
  readonly setup: ReductionSetup & { readonly grid: NonNullable<ReductionSetup['grid']> };
  readonly outputs: FlowOutputs;
  readonly epochs: OccupationWriter;
  readonly page: ReductionAudience | null;
  readonly explain: ExplainTarget | null;
  readonly report: (problems: readonly Problem[]) => void;
}

/** The way of a run from fixes to what is written: the flows of its days, and all that they hand points and problems to. */
export interface ReductionFlow {
  readonly writer: PointsWriter;
  readonly columns: readonly string[];
  readonly csv: CsvWriteOptions;
  /** Of the whole run. */
  readonly totals: ReductionTotals;
  /** Those opened so far; a run without a job has one. */
  readonly days: readonly DayFlow[];
  readonly explained: readonly ExplainedOccupation[];
  readonly isHeld: boolean;
  readonly carriedCount: number;
  /** Whether a header stands before the points. */
  readonly hasHeader: boolean;
  /** By input, where its other columns stand among those of the run; null: in the same places. */
  readonly remaps: (readonly number[] | null)[];
  /** Opens a day. `id`: null without a job. */
  readonly openDay: (
    id: string | null,
    setup: ReductionSetup,
    how: { readonly share: RowPartition | null; readonly edits: JobEdits | null; readonly isOnlyChecked: boolean },
  ) => DayFlow;
  /** Counts and writes a point that had been held. */
  readonly release: (point: ReducedPoint) => void;
  /** Rows that were refused after they had been read, since this was last asked. */
  readonly takeLate: () => readonly LateRefusal[];
  /** Whether any row was refused so far by a reducer. */
  readonly hasFailed: () => boolean;
  readonly begin: () => Promise<void>;
  /** Writes what is ready where it is more than so many bytes, while the next is made. */
  readonly flush: (least: number) => Promise<void>;
  /** Given: what JSON says of the answer. */
  readonly end: (summary: Readonly<Record<string, unknown>>) => Promise<void>;
}

/** Opens the way of a run. */
export function openFlow(parts: FlowParts): ReductionFlow {
  const { format, csv, isHeld, outputs, page, setup } = parts;
  const gridPair = [setup.grid.axes[0].columnName, setup.grid.axes[1].columnName] as const;
  const own = pointColumns(gridPair);
  const carried = carriedNames(writtenNames(format, own), parts.names);
  parts.report(renamedColumnNotes(carried));
  const writer = createPointsWriter(format, gridPair, carried.names, pointsFrame(setup, parts.epochYear), csv);
  const totals = createReductionTotals();
  const release = (point: ReducedPoint): void => {
    totals.addPoint(point);
    page?.addPoint(point);
    if (outputs.points !== null) writer.add(point);
  };
  const { hasHeader, begin, flush, end, epochs } = openWriting(parts, writer);
  return {
    writer,
    columns: [...own.map(({ name }) => name), ...carried.names],
    csv,
    totals,
    isHeld,
    hasHeader,
    carriedCount: carried.names.length,
    release,
    begin,
    flush,
    end,
    ...openDays(parts, { totals, release, epochs, carriedCount: carried.names.length }),
  };
}

/** The days of a run, and what they hand on together. */
function openDays(
  { isHeld, page, explain, report, outputs }: FlowParts,
  {
    totals,
    release,
    epochs,
    carriedCount,
  }: Pick<ReductionFlow, 'totals' | 'release' | 'carriedCount'> & Pick<FlowWriting, 'epochs'>,
): Pick<ReductionFlow, 'days' | 'explained' | 'remaps' | 'openDay' | 'takeLate' | 'hasFailed'> {
  const explained: ExplainedOccupation[] = [];
  const remaps: (readonly number[] | null)[] = [];
  const days: DayFlow[] = [];
  let failed = false;
  let late: LateRefusal[] = [];
  return {
    days,
    explained,
    remaps,
    hasFailed: () => failed,
    takeLate: () => {
      const taken = late;
      late = [];
      return taken;
    },
    openDay(id, setup, { share, edits, isOnlyChecked }) {
      const day = createDayFlow({
        id,
        setup,
        share,
        edits,
        isOnlyChecked,
        totals: id === null ? totals : createReductionTotals(),
        isHeld,
        carriedCount,
        remaps,
        release,
        isWorkingUnasked: page === null && explain === null && outputs.epochs === null,
        report,
        onRefused(refusal) {
          failed = true;
          late.push(refusal);
        },
        onOccupation(reduced) {
          if (id !== null) totals.addOccupation(reduced);
          page?.addOccupation(reduced, { id, setup });
          epochs(reduced);
          if (isExplained(explain, reduced.point)) explained.push({ reduced, setup });
        },
      });
      days.push(day);
      return day;
    },
  };
}

function isExplained(target: ExplainTarget | null, { pointId, occupation }: ReducedPoint): boolean {
  return (
    target !== null && target.pointId === pointId && (target.occupation === null || target.occupation === occupation)
  );
}

interface FlowWriting extends Pick<ReductionFlow, 'hasHeader' | 'begin' | 'flush' | 'end'> {
  /** Lays the epochs of an occupation by for the next flush. */
  readonly epochs: (reduced: ReducedOccupation) => void;
}

/** Points and epochs on their way to their outputs. */
function openWriting(
  {
    format,
    isHeaded,
    isViewed,
    areEpochsViewed,
    outputs,
    epochs,
  }: Pick<FlowParts, 'format' | 'isHeaded' | 'isViewed' | 'areEpochsViewed' | 'outputs' | 'epochs'>,
  writer: PointsWriter,
): FlowWriting {
  const hasHeader = isHeaded || isViewed || format !== 'csv';
  let epochText = '';
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
    hasHeader,
    flush,
    epochs(reduced) {
      if (outputs.epochs !== null) epochText += epochs.occupation(reduced);
    },
    async begin() {
      if (hasHeader) await outputs.points?.write(writer.begin());
      if (isHeaded || areEpochsViewed) await outputs.epochs?.write(epochs.begin());
    },
    async end(summary) {
      await flush(0);
      await writing;
      await outputs.points?.write(writer.end(summary));
    },
  };
}
