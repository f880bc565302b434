import { Buffer } from 'node:buffer';
import { clampedSqrt } from '../../../core/numeric/clamped.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type {
  Baseline,
  PositionalSummary,
  ReducedPoint,
  ReducedPosition,
} from '../../../records/points/reduced-point.js';
import { createCsvWriter } from '../../csv/csv-write.js';
import type { CsvWriteOptions } from '../../csv/csv-write.js';
import { DECIMALS, pointCells } from './point-cells.js';
import { MOST_FIXED_BYTES, NO_NUMBER, writeAscii, writeFixedCells, writeWhole } from '../../text/write-digits.js';
import { needsQuotes, writeText } from '../../text/write-text.js';
import { createUtcWriter } from '../../text/write-utc.js';

const { metres, degrees, factor, convergence, ppm, correlation, azimuth, count } = DECIMALS;
const POSITION_DECIMALS: Uint8Array = Uint8Array.of(
  metres,
  metres,
  metres,
  degrees,
  degrees,
  metres,
  metres,
  factor,
  factor,
  factor,
  convergence,
);
const LINE_DECIMALS: Uint8Array = Uint8Array.of(metres, azimuth, metres);
const COUNT_DECIMALS: Uint8Array = Uint8Array.of(count);
const SIGMA_DECIMALS: Uint8Array = Uint8Array.of(metres, metres, metres, correlation);
const FIGURE_DECIMALS: Uint8Array = Uint8Array.of(metres, metres, ppm, metres, metres);

/** Gathers rows of a points file as bytes. */
export interface PointRowWriter {
  readonly add: (point: ReducedPoint) => void;
  /** Position among the bytes waiting of the last row's occupation; −1 where the row needed quotes. */
  readonly lastOccupationAt: () => number;
  /** Bytes waiting. */
  readonly size: () => number;
  /** Hands over what waits. It stays as it is until the second `take` after this one, or for good where `into` gave the memory. */
  readonly take: () => Buffer;
  /** Has what follows written into this memory, or larger memory in its place, until the next `take`. Only while nothing waits. */
  readonly into: (room: Buffer) => void;
}

const COMMA = 0x2c;
const ROOM_BYTES = 1 << 18;
/** Room for every number and word of a row; texts of the input come on top. */
const MOST_ROW_BYTES = 48 * MOST_FIXED_BYTES;

/**
 * A writer of the rows that `createCsvWriter` makes of `pointCells`, straight to bytes: a million points of forty numbers
 * would be forty million strings. A row in which a text needs quotes is written by those two. A property test holds the
 * ways together.
 */
export function createPointRowWriter(columns: readonly string[], options: CsvWriteOptions): PointRowWriter {
  const delimiter = options.delimiter.charCodeAt(0);
  const isCrlf = options.eol === '\r\n';
  const quoting = createCsvWriter(columns, options);
  const writeUtc = createUtcWriter();
  const values = new Float64Array(POSITION_DECIMALS.length);
  let bytes: Buffer = Buffer.allocUnsafeSlow(ROOM_BYTES + MOST_ROW_BYTES);
  let spare: Buffer | null = null;
  /** The writer's own memory, while it writes into other memory. */
  let own: Buffer | null = null;
  let at = 0;
  let occupationAt = -1;

  /** Makes room for one more row. */
  function reserve(extra: number): void {
    if (at + extra <= bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (at + extra));
    bytes.copy(larger, 0, 0, at);
    bytes = larger;
  }

  function text(cell: string): void {
    at = writeText(bytes, at, cell);
    bytes[at++] = delimiter;
  }

  /** Writes so many of the values held. */
  function cells(decimals: Uint8Array): void {
    at = writeFixedCells(bytes, at, values, decimals, delimiter);
  }

  function empty(count: number): void {
    for (let index = 0; index < count; index += 1) bytes[at++] = delimiter;
  }

  function position(held: ReducedPosition): void {
    const { geodetic } = held;
    values[0] = held.gridFirst ?? NO_NUMBER;
    values[1] = held.gridSecond ?? NO_NUMBER;
    values[2] = held.orthometricHeightM ?? NO_NUMBER;
    values[3] = geodetic.latitudeDeg;
    values[4] = geodetic.longitudeDeg;
    values[5] = geodetic.ellipsoidalHeightM;
    values[6] = held.geoidHeightM ?? NO_NUMBER;
    values[7] = held.pointScaleFactor ?? NO_NUMBER;
    values[8] = held.elevationFactor ?? NO_NUMBER;
    values[9] = held.combinedFactor ?? NO_NUMBER;
    values[10] = held.convergenceDeg ?? NO_NUMBER;
    cells(POSITION_DECIMALS);
  }

  function line(held: Baseline): void {
    values[0] = held.distanceM;
    values[1] = held.azimuthDeg ?? NO_NUMBER;
    values[2] = held.heightDifferenceM;
    cells(LINE_DECIMALS);
  }

  function times(firstMs: number | null, lastMs: number | null): void {
    const start = at;
    if (firstMs !== null) at = writeUtc(bytes, at, firstMs);
    const end = at;
    bytes[at++] = delimiter;
    if (lastMs !== null && lastMs === firstMs) {
      bytes.copyWithin(at, start, end);
      at += end - start;
    } else if (lastMs !== null) at = writeUtc(bytes, at, lastMs);
    bytes[at++] = delimiter;
  }

  function sigmas({ eeM2, enM2, nnM2, uuM2 }: LocalCovariance): void {
    const sigmaEastM = clampedSqrt(eeM2);
    const sigmaNorthM = clampedSqrt(nnM2);
    const product = sigmaEastM * sigmaNorthM;
    values[0] = sigmaEastM;
    values[1] = sigmaNorthM;
    values[2] = clampedSqrt(uuM2);
    values[3] = product > 0 ? enM2 / product : 0;
    cells(SIGMA_DECIMALS);
  }

  function figures(summary: PositionalSummary): void {
    values[0] = summary.ellipseMajor95M;
    values[1] = summary.ellipseMinor95M;
    values[2] = summary.ellipseAzimuthDeg;
    values[3] = summary.circle95M;
    values[4] = summary.vertical95M;
    cells(FIGURE_DECIMALS);
  }

  function quoted(point: ReducedPoint): void {
    const row = quoting.rows([pointCells(point)]);
    reserve(3 * row.length);
    at = writeText(bytes, at, row);
  }

  return {
    lastOccupationAt: () => occupationAt,
    size: () => at,
    into(room) {
      own = bytes;
      bytes = room;
    },
    take() {
      const taken = bytes.subarray(0, at);
      at = 0;
      if (own !== null) {
        bytes = own;
        own = null;
        return taken;
      }
      const other = spare ?? Buffer.allocUnsafeSlow(ROOM_BYTES + MOST_ROW_BYTES);
      spare = bytes;
      bytes = other;
      return taken;
    },
    add(point) {
      const { pointId, occupation, code, baseId, baseline, passThrough, reasons } = point;
      let characters = pointId.length + occupation.length + code.length + (baseId?.length ?? 0);
      let isPlain =
        delimiter === COMMA &&
        options.isSpreadsheetSafe !== true &&
        !needsQuotes(pointId, delimiter) &&
        !needsQuotes(code, delimiter) &&
        (baseId === null || !needsQuotes(baseId, delimiter));
      // By index: a frozen list is slow to walk otherwise.
      for (let index = 0; index < passThrough.length; index += 1) {
        const cell = passThrough[index] as string;
        characters += cell.length + 1;
        isPlain &&= !needsQuotes(cell, delimiter);
      }
      if (!isPlain) {
        quoted(point);
        occupationAt = -1;
        return;
      }
      reserve(MOST_ROW_BYTES + 3 * characters);
      text(pointId);
      occupationAt = at;
      text(occupation);
      text(code);
      if (point.position === null) empty(11);
      else position(point.position);
      text(baseId ?? '');
      if (baseline === null) empty(3);
      else line(baseline);
      times(point.firstEpochMs, point.lastEpochMs);
      at = writeWhole(bytes, at, point.epochsUsed);
      bytes[at++] = delimiter;
      at = writeWhole(bytes, at, point.epochsRejected);
      bytes[at++] = delimiter;
      values[0] = point.effectiveEpochs ?? NO_NUMBER;
      cells(COUNT_DECIMALS);
      if (point.uncertainty === null) empty(4);
      else sigmas(point.uncertainty.total);
      if (point.summary === null) empty(5);
      else figures(point.summary);
      text(point.verdict);
      for (let index = 0; index < reasons.length; index += 1) {
        if (index > 0) bytes[at++] = 0x3b;
        at = writeAscii(bytes, at, reasons[index] ?? '');
      }
      for (let index = 0; index < passThrough.length; index += 1) {
        bytes[at++] = delimiter;
        at = writeText(bytes, at, passThrough[index] as string);
      }
      if (isCrlf) bytes[at++] = 0x0d;
      bytes[at++] = 0x0a;
    },
  };
}
