import { Buffer } from 'node:buffer';
import { clampedSqrt } from '../core/numeric/clamped.js';
import type { LocalCovariance } from '../records/point.js';
import type { PositionalSummary, ReducedPoint, ReducedPosition } from '../records/reduced-point.js';
import { createCsvWriter } from './csv-write.js';
import type { CsvWriteOptions } from './csv-write.js';
import { DECIMALS, pointCells } from './point-cells.js';
import { MOST_FIXED_BYTES, writeAscii, writeFixed, writeWhole } from './write-digits.js';
import { needsQuotes, writeText } from './write-text.js';
import { createUtcWriter } from './write-utc.js';

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

  function number(value: number | null, decimals: number): void {
    if (value !== null) at = writeFixed(bytes, at, value, decimals);
    bytes[at++] = delimiter;
  }

  function empty(count: number): void {
    for (let index = 0; index < count; index += 1) bytes[at++] = delimiter;
  }

  function position(held: ReducedPosition): void {
    const { geodetic } = held;
    number(held.gridFirst, DECIMALS.metres);
    number(held.gridSecond, DECIMALS.metres);
    number(held.orthometricHeightM, DECIMALS.metres);
    number(geodetic.latitudeDeg, DECIMALS.degrees);
    number(geodetic.longitudeDeg, DECIMALS.degrees);
    number(geodetic.ellipsoidalHeightM, DECIMALS.metres);
    number(held.geoidHeightM, DECIMALS.metres);
    number(held.pointScaleFactor, DECIMALS.factor);
    number(held.elevationFactor, DECIMALS.factor);
    number(held.combinedFactor, DECIMALS.factor);
    number(held.convergenceDeg, DECIMALS.convergence);
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
    number(sigmaEastM, DECIMALS.metres);
    number(sigmaNorthM, DECIMALS.metres);
    number(clampedSqrt(uuM2), DECIMALS.metres);
    number(product > 0 ? enM2 / product : 0, DECIMALS.correlation);
  }

  function figures(summary: PositionalSummary): void {
    number(summary.ellipseMajor95M, DECIMALS.metres);
    number(summary.ellipseMinor95M, DECIMALS.metres);
    number(summary.ellipseAzimuthDeg, DECIMALS.ppm);
    number(summary.circle95M, DECIMALS.metres);
    number(summary.vertical95M, DECIMALS.metres);
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
      let isPlain = delimiter === COMMA && options.isSpreadsheetSafe !== true && !needsQuotes(pointId, delimiter) && !needsQuotes(code, delimiter) && (baseId === null || !needsQuotes(baseId, delimiter));
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
      else {
        number(baseline.distanceM, DECIMALS.metres);
        number(baseline.azimuthDeg, DECIMALS.azimuth);
        number(baseline.heightDifferenceM, DECIMALS.metres);
      }
      times(point.firstEpochMs, point.lastEpochMs);
      at = writeWhole(bytes, at, point.epochsUsed);
      bytes[at++] = delimiter;
      at = writeWhole(bytes, at, point.epochsRejected);
      bytes[at++] = delimiter;
      number(point.effectiveEpochs, DECIMALS.count);
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
