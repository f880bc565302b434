import { ownEntry } from '../../core/numeric/own-entry.js';
import type { GridShiftLevel } from '../../core/grid/plane/grid-shift.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';

/** What an NTv2 file says of itself, and its grids. */
export interface Ntv2Content {
  readonly levels: readonly GridShiftLevel[];
  /** Names of the systems as the file has them, in its own words. */
  readonly fromName: string | null;
  readonly toName: string | null;
}

const RECORD = 16;
const HEADER = 11 * RECORD;
const MAXIMUM_NODES = 100_000_000;
/** Seconds of arc in a unit of the file, by its GS_TYPE. */
const UNITS: Readonly<Record<string, number>> = { SECONDS: 1, MINUTES: 60, DEGREES: 3600 };

/**
 * Reads an NTv2 grid of latitude and longitude shifts, little- or big-endian, with 16-byte nodes.
 *
 * Given: the file's bytes. Returned: its grids, west positive turned to east positive.
 * Problems: grid-unreadable for a header that cannot be one, a file cut off, or bytes too many by a
 * grid; grid-unsupported for another unit, or too many nodes.
 * Reference: NTV2.
 */
export function readNtv2(bytes: Uint8Array): Outcome<Ntv2Content> {
  if (bytes.byteLength < 2 * HEADER)
    return bad('grid-unreadable', `${String(bytes.byteLength)} bytes are fewer than the headers of an NTv2 grid`);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const little = view.getInt32(8, true) === 11;
  if (!little && view.getInt32(8, false) !== 11)
    return bad('grid-unreadable', 'the file does not begin like an NTv2 grid', 'is it a .gsb file, and whole?');
  const word = (at: number): string =>
    Array.from(bytes.subarray(at, at + 8), (code) => String.fromCharCode(code))
      .join('')
      .replaceAll('\0', ' ')
      .trimEnd();
  const count = view.getInt32(40, little);
  const unit = ownEntry(UNITS, word(56));
  if (unit === undefined)
    return bad('grid-unsupported', `its unit is ${word(56)}`, 'SECONDS, MINUTES and DEGREES are read');
  if (!(count >= 1 && count <= 10_000)) return bad('grid-unreadable', `it says that it has ${String(count)} grids`);
  const levels: GridShiftLevel[] = [];
  let at = HEADER;
  for (let index = 0; index < count; index += 1) {
    if (at + HEADER > bytes.byteLength) return truncated(index + 1, count);
    const [south, north, east, west, latitudeStep, longitudeStep] = [72, 88, 104, 120, 136, 152].map(
      (offset) => view.getFloat64(at + offset, little) * unit,
    ) as [number, number, number, number, number, number];
    const nodes = view.getInt32(at + 168, little);
    const rows = Math.round((north - south) / latitudeStep) + 1;
    const columns = Math.round((west - east) / longitudeStep) + 1;
    if (!(
      latitudeStep > 0 &&
      longitudeStep > 0 &&
      rows >= 2 &&
      columns >= 2 &&
      rows * columns === nodes &&
      Math.abs(south) <= 324_000 &&
      Math.abs(north) <= 324_000
    )) {
      return bad(
        'grid-unreadable',
        `the limits and steps of grid ${word(at + 8)} do not give its ${String(nodes)} nodes`,
      );
    }
    if (nodes > MAXIMUM_NODES)
      return bad(
        'grid-unsupported',
        `grid ${word(at + 8)} has ${String(nodes)} nodes, more than ${String(MAXIMUM_NODES)}`,
      );
    at += HEADER;
    if (at + nodes * RECORD > bytes.byteLength) return truncated(index + 1, count);
    const latitudeArcsec = new Float32Array(nodes);
    const longitudeArcsec = new Float32Array(nodes);
    for (let row = 0; row < rows; row += 1) {
      for (let column = 0; column < columns; column += 1) {
        const node = at + (row * columns + column) * RECORD;
        const to = row * columns + (columns - 1 - column);
        latitudeArcsec[to] = view.getFloat32(node, little) * unit;
        longitudeArcsec[to] = -view.getFloat32(node + 4, little) * unit;
      }
    }
    at += nodes * RECORD;
    levels.push({
      southDeg: south / 3600,
      westDeg: -west / 3600,
      latitudeStepDeg: latitudeStep / 3600,
      longitudeStepDeg: longitudeStep / 3600,
      rows,
      columns,
      latitudeArcsec,
      longitudeArcsec,
    });
  }
  const named = (text: string): string | null => (text === '' ? null : text);
  return success({ levels, fromName: named(word(88)), toName: named(word(104)) });
}

function truncated(index: number, count: number): Outcome<never> {
  return bad(
    'grid-unreadable',
    `the file ends within grid ${String(index)} of ${String(count)}`,
    'the file is truncated; fetch it again',
  );
}

function bad(code: ProblemCode, message: string, hint?: string): Outcome<never> {
  return failure(errorProblem(code, { message, ...(hint !== undefined && { hint }) }));
}
