import { gridLevelFrom, gridShapeProblem } from '../../core/geoid/grid-level-from.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeoidFileContent } from './grid-reading.js';

const HEADER_BYTES = 40;
/** The format's no-data value, as the four-byte number it becomes in the file. */
const NO_DATA = Math.fround(-88.8888);

/**
 * Reads a GTX grid: a 40-byte header of south, west, steps, rows and columns, then one four-byte
 * number for each node, all big-endian, south to north and west to east.
 *
 * Given: the file's bytes.
 * Returned: one level in metres; frame null, as the format has no place for it.
 * Problems: `grid-unreadable` for a header that cannot be one, a truncated file, or bytes too many;
 * `grid-unsupported` for too many nodes.
 * Reference: GTX, "Vertical datum grid shift format" (docs/geoid-formats.md); checked on the file
 * of reference G1.
 */
export function readGtx(bytes: Uint8Array): Outcome<GeoidFileContent> {
  if (bytes.byteLength < HEADER_BYTES) {
    return failure({
      code: 'grid-unreadable',
      severity: 'error',
      message: `${bytes.byteLength} bytes are fewer than the 40 of a gtx header`,
    });
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const shape = {
    southDeg: view.getFloat64(0),
    westDeg: view.getFloat64(8),
    latitudeStepDeg: view.getFloat64(16),
    longitudeStepDeg: view.getFloat64(24),
    rows: view.getInt32(32),
    columns: view.getInt32(36),
  };
  const wrong = gridShapeProblem(shape);
  if (wrong !== null) return failure({ ...wrong, hint: 'is the file a gtx grid, with its bytes in big-endian order?' });
  const nodes = shape.rows * shape.columns;
  const expectedBytes = HEADER_BYTES + 4 * nodes;
  if (bytes.byteLength !== expectedBytes) {
    return failure({
      code: 'grid-unreadable',
      severity: 'error',
      message: `the file has ${bytes.byteLength} bytes, ${shape.rows} rows of ${shape.columns} need ${expectedBytes}`,
      hint:
        bytes.byteLength < expectedBytes
          ? 'the file is truncated; fetch it again'
          : 'the file is damaged; fetch it again',
    });
  }
  const values = new Float32Array(nodes);
  for (let index = 0; index < nodes; index += 1) {
    const value = view.getFloat32(HEADER_BYTES + 4 * index);
    values[index] = value === NO_DATA ? Number.NaN : value;
  }
  const level = gridLevelFrom(shape, values);
  return level.ok ? success({ frame: null, precisionNote: null, levels: [level.value] }) : level;
}
