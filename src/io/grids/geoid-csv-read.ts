import { gridLevelFrom, gridShapeProblem, MAXIMUM_GRID_NODES } from '../../core/geoid/grid-level-from.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import { byteLines } from '../text/byte-lines.js';
import type { NumberedLine } from '../text/byte-lines.js';
import { DEFAULT_GRID_READING } from './grid-reading.js';
import type { GeoidFileContent, GridReading } from './grid-reading.js';
import { axisOf } from './regular-axis.js';
import { entryAt } from '../../records/present.js';

const COLUMNS = ['latitude_deg', 'longitude_deg', 'geoid_height_m'] as const;
/** Larger grids are not written as text. */
const MAXIMUM_TEXT_BYTES = 500_000_000;

/**
 * Reads a geoid grid from comma-separated text: a header with `latitude_deg`, `longitude_deg` and
 * `geoid_height_m`, in any order, and one row for each node of a full regular grid, in any order. An
 * empty height is a node without data. Nothing is quoted and nothing else is in the file.
 *
 * Given: the file's bytes, UTF-8.
 * Returned: one level; frame null, as the file has no place for it.
 * Problems: `grid-unreadable`, with the line, for a missing column, a cell that is no number, a
 * position off the regular grid, or a node given twice; for nodes that are missing; and
 * `grid-unsupported` for a file too large.
 */
export function readGeoidCsv(
  bytes: Uint8Array,
  { mostNodes }: Pick<GridReading, 'mostNodes'> = DEFAULT_GRID_READING,
): Outcome<GeoidFileContent> {
  if (bytes.byteLength > MAXIMUM_TEXT_BYTES) {
    return failure({
      code: 'grid-unsupported',
      severity: 'error',
      message: `${bytes.byteLength} bytes of text are too many for a grid`,
      hint: 'use a gtx or tif file',
    });
  }
  const lines = byteLines(bytes);
  const first = lines.next();
  const line = first.done === true ? null : first.value;
  if (line !== null && !line.ok) return line;
  const head = line === null || line.value.number > 1 ? '' : line.value.text;
  const header = head.split(',').map((cell) => cell.trim().toLowerCase());
  const places = COLUMNS.map((name) => header.indexOf(name));
  const missing = COLUMNS.filter((_name, index) => places[index] === -1);
  if (missing.length > 0 || header.length !== COLUMNS.length) {
    return failure(
      at(1, `the header of the grid is not ${COLUMNS.join(',')}`, { received: head, expected: COLUMNS.join(',') }),
    );
  }
  const count = rowsAtMost(bytes);
  if (count > mostNodes) {
    return failure({
      code: 'grid-unsupported',
      severity: 'error',
      message: `the file has ${count} lines, more than the ${mostNodes} nodes that are read`,
      hint: 'use a gtx or tif file, or allow more with --grid-nodes',
    });
  }
  const nodes = readNodes(lines, places, count);
  return nodes.ok ? levelOf(nodes.value) : nodes;
}

interface Nodes {
  readonly latitudesDeg: Float64Array;
  readonly longitudesDeg: Float64Array;
  readonly heightsM: Float64Array;
  readonly lineNumbers: Uint32Array;
}

/** Lines after the header that are long enough for a node: `0,0,` at least. */
function rowsAtMost(bytes: Uint8Array): number {
  let rows = 0;
  let start = 0;
  for (let at = 0; at <= bytes.length; at += 1) {
    if (at < bytes.length && bytes[at] !== 0x0a && bytes[at] !== 0x0d) continue;
    if (at - start >= 4) rows += 1;
    start = at + 1;
  }
  return rows;
}

function readNodes(lines: Iterable<Outcome<NumberedLine>>, places: readonly number[], most: number): Outcome<Nodes> {
  const nodes: Nodes = {
    latitudesDeg: new Float64Array(most),
    longitudesDeg: new Float64Array(most),
    heightsM: new Float64Array(most),
    lineNumbers: new Uint32Array(most),
  };
  const [latitudeAt = 0, longitudeAt = 0, heightAt = 0] = places;
  let count = 0;
  for (const item of lines) {
    if (!item.ok) return item;
    const { text: line, number } = item.value;
    if (line.trim() === '') continue;
    const cells = line.split(',', COLUMNS.length + 1);
    if (cells.length !== COLUMNS.length)
      return failure(at(number, `${line.split(',').length} cells instead of 3`, { received: line }));
    // A row may be shorter than its header: what is not there is refused as no number.
    const heightText = cells[heightAt] ?? '';
    // A row may be shorter than its header: what is not there is refused as no number.
    const latitudeDeg = parseDecimal(cells[latitudeAt] ?? '');
    // A row may be shorter than its header: what is not there is refused as no number.
    const longitudeDeg = parseDecimal(cells[longitudeAt] ?? '');
    const heightM = heightText.trim() === '' ? Number.NaN : parseDecimal(heightText);
    if (latitudeDeg === null || longitudeDeg === null || heightM === null) {
      return failure(at(number, 'a cell is not a decimal number', { received: line }));
    }
    nodes.latitudesDeg[count] = latitudeDeg;
    nodes.longitudesDeg[count] = longitudeDeg;
    nodes.heightsM[count] = heightM;
    nodes.lineNumbers[count] = number;
    count += 1;
  }
  const { latitudesDeg, longitudesDeg, heightsM, lineNumbers } = nodes;
  return success({
    latitudesDeg: latitudesDeg.subarray(0, count),
    longitudesDeg: longitudesDeg.subarray(0, count),
    heightsM: heightsM.subarray(0, count),
    lineNumbers: lineNumbers.subarray(0, count),
  });
}

function levelOf(nodes: Nodes): Outcome<GeoidFileContent> {
  const rowAxis = axisOf(nodes.latitudesDeg);
  const columnAxis = axisOf(nodes.longitudesDeg);
  if (typeof rowAxis === 'number')
    return failure(
      at(nodes.lineNumbers[rowAxis] ?? 1, 'the latitude is not on a regular grid', {
        received: String(nodes.latitudesDeg[rowAxis]),
      }),
    );
  if (typeof columnAxis === 'number')
    return failure(
      at(nodes.lineNumbers[columnAxis] ?? 1, 'the longitude is not on a regular grid', {
        received: String(nodes.longitudesDeg[columnAxis]),
      }),
    );
  const rows = rowAxis.count;
  const columns = columnAxis.count;
  const shape = {
    southDeg: rowAxis.first,
    westDeg: columnAxis.first,
    latitudeStepDeg: rowAxis.step,
    longitudeStepDeg: columnAxis.step,
    rows,
    columns,
  };
  const wrong = gridShapeProblem(shape);
  if (wrong !== null) return failure(wrong);
  // Every node needs a row, so a sparse cloud of points cannot claim a large grid.
  if (rows * columns > Math.min(MAXIMUM_GRID_NODES, 4 * nodes.heightsM.length + 16))
    return failure(gap(rows, columns, nodes.heightsM.length));
  const values = new Float64Array(rows * columns);
  const seen = new Uint8Array(rows * columns);
  for (let index = 0; index < nodes.heightsM.length; index += 1) {
    const row = Math.round((entryAt(nodes.latitudesDeg, index) - rowAxis.first) / rowAxis.step);
    const column = Math.round((entryAt(nodes.longitudesDeg, index) - columnAxis.first) / columnAxis.step);
    const node = row * columns + column;
    if (seen[node] === 1) return failure(at(nodes.lineNumbers[index] ?? 1, 'the node is given a second time', {}));
    seen[node] = 1;
    values[node] = nodes.heightsM[index] ?? Number.NaN;
  }
  const empty = seen.indexOf(0);
  if (empty >= 0) {
    const latitudeDeg = rowAxis.first + Math.floor(empty / columns) * rowAxis.step;
    const longitudeDeg = columnAxis.first + (empty % columns) * columnAxis.step;
    return failure({
      ...gap(rows, columns, nodes.heightsM.length),
      received: `no row for latitude ${latitudeDeg} longitude ${longitudeDeg}`,
    });
  }
  const level = gridLevelFrom(shape, values);
  return level.ok ? success({ frame: null, precisionNote: null, levels: [level.value] }) : level;
}

function gap(rows: number, columns: number, given: number): Problem {
  return {
    code: 'grid-unreadable',
    severity: 'error',
    message: `${given} rows do not fill a grid of ${rows} latitudes and ${columns} longitudes`,
    hint: 'give every node a row; leave the height empty where there is none',
  };
}

function at(
  line: number,
  message: string,
  detail: { readonly received?: string; readonly expected?: string },
): Problem {
  return { code: 'grid-unreadable', severity: 'error', message, where: { line }, ...detail };
}
