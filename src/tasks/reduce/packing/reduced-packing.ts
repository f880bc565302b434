import type { PointVerdict, ReducedPoint } from '../../../records/points/reduced-point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { present } from '../../../records/present.js';
import type { SpareRoom } from '../../../records/spare-room.js';
import { createNumberRows, ROW_SIZES } from './number-rows.js';
import type { RowSizes } from './number-rows.js';
import type { PackedRecords } from './packed-records.js';
import {
  baselineFrom,
  orNull,
  PART_NUMBERS,
  positionFrom,
  putBaseline,
  putOrNull,
  putPosition,
  putSummary,
  putUncertainty,
  summaryFrom,
  uncertaintyFrom,
} from './reduced-parts.js';
import { createTextTable } from './text-table.js';

const NO_REASONS: readonly ProblemCode[] = Object.freeze([]);
const NO_CELLS: readonly string[] = Object.freeze([]);
const VERDICTS: readonly PointVerdict[] = ['accepted', 'review', 'rejected'];

/** Numbers of a point before those of its parts. */
const OWN = 17;

/** Reduced points that are added and never changed. */
export interface PackedReduced extends PackedRecords<ReducedPoint> {
  /** Gives back the room outside memory; no point is asked for any more. */
  close(): void;
}

/**
 * An empty list of reduced points, each in as many numbers: its texts by theirs in a table, no number and no part as NaN. A point that
 * is pushed may change afterwards; one that is asked for is made anew. `spare`: where they go that would fill memory; null: they stay.
 */
export function createPackedReduced(spare: SpareRoom | null = null, sizes: RowSizes = ROW_SIZES): PackedReduced {
  const rows = createNumberRows(OWN + PART_NUMBERS, spare, sizes);
  const { write, read } = createLayout();
  return {
    get length() {
      return rows.length();
    },
    at: (index) => (index >= 0 && index < rows.length() ? rows.read(index, read) : undefined),
    push(point) {
      rows.add(point, write);
    },
    *[Symbol.iterator]() {
      const count = rows.length();
      for (let index = 0; index < count; index += 1) yield rows.read(index, read);
    },
    close: rows.close,
  };
}

/** How a point is written as numbers and made of them again. */
function createLayout(): {
  readonly write: (point: ReducedPoint, into: Float64Array, at: number) => void;
  readonly read: (from: Float64Array, at: number) => ReducedPoint;
} {
  const texts = createTextTable();
  // Cells that pass through, one point after another.
  const passing: number[] = [];
  const putText = (text: string | null, into: Float64Array, at: number): void => {
    into[at] = text === null ? Number.NaN : texts.add(text);
  };
  const textAt = (number: number): string | null => (Number.isNaN(number) ? null : texts.at(number));

  function write(point: ReducedPoint, into: Float64Array, at: number): void {
    into[at] = texts.add(point.pointId);
    into[at + 1] = texts.add(point.occupation);
    into[at + 2] = texts.add(point.code);
    putText(point.baseId, into, at + 3);
    putText(point.setupKey, into, at + 4);
    putText(point.reasons.length === 0 ? null : point.reasons.join(' '), into, at + 5);
    putOrNull(point.poleLengthM, into, at + 6);
    putOrNull(point.firstEpochMs, into, at + 7);
    putOrNull(point.lastEpochMs, into, at + 8);
    into[at + 9] = point.epochsUsed;
    into[at + 10] = point.epochsRejected;
    putOrNull(point.effectiveEpochs, into, at + 11);
    into[at + 12] = VERDICTS.indexOf(point.verdict);
    into[at + 13] = point.place.sourceIndex;
    into[at + 14] = point.place.line;
    into[at + 15] = passing.length;
    into[at + 16] = point.passThrough.length;
    for (const cell of point.passThrough) passing.push(texts.add(cell));
    putBaseline(point.baseline, into, at + OWN);
    putPosition(point.position, into, at + OWN);
    putUncertainty(point.uncertainty, into, at + OWN);
    putSummary(point.summary, into, at + OWN);
  }

  function read(from: Float64Array, at: number): ReducedPoint {
    const number = (place: number): number => from[at + place] as number;
    return {
      pointId: texts.at(number(0)),
      occupation: texts.at(number(1)),
      code: texts.at(number(2)),
      baseId: textAt(number(3)),
      setupKey: textAt(number(4)),
      poleLengthM: orNull(number(6)),
      baseline: baselineFrom(from, at + OWN),
      firstEpochMs: orNull(number(7)),
      lastEpochMs: orNull(number(8)),
      epochsUsed: number(9),
      epochsRejected: number(10),
      effectiveEpochs: orNull(number(11)),
      position: positionFrom(from, at + OWN),
      uncertainty: uncertaintyFrom(from, at + OWN),
      summary: summaryFrom(from, at + OWN),
      verdict: present(VERDICTS[number(12)], 'the verdict of a packed point'),
      reasons: reasonsOf(textAt(number(5))),
      passThrough: number(16) === 0 ? NO_CELLS : passing.slice(number(15), number(15) + number(16)).map(texts.at),
      place: { sourceIndex: number(13), line: number(14) },
    };
  }

  return { write, read };
}

function reasonsOf(text: string | null): readonly ProblemCode[] {
  return text === null ? NO_REASONS : (text.split(' ') as ProblemCode[]);
}
