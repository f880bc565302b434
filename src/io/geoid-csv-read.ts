import { gridLevelFrom, gridShapeProblem, MAXIMUM_GRID_NODES } from '../core/geoid/grid-level-from.js';
import { parseDecimal } from '../core/numeric/decimal-text.js';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { Problem } from '../records/problem.js';
import { axisOf } from './regular-axis.js';
import type { GeoidFileContent } from './gtx-read.js';

const COLUMNS = ['latitude_deg', 'longitude_deg', 'geoid_height_m'] as const;
/** Text is held as one string, whose length is bounded. */
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
export function readGeoidCsv(bytes: Uint8Array): Outcome<GeoidFileContent> {
  if (bytes.byteLength > MAXIMUM_TEXT_BYTES) {
    return failure({ code: 'grid-unsupported', severity: 'error', message: `${bytes.byteLength} bytes of text are too many for a grid`, hint: 'use a gtx or tif file' });
  }
  const lines = new TextDecoder('utf-8').decode(bytes).split(/\r\n|\n|\r/u);
  const header = (lines[0] ?? '').split(',').map((cell) => cell.trim().toLowerCase());
  const places = COLUMNS.map((name) => header.indexOf(name));
  const missing = COLUMNS.filter((_name, index) => places[index] === -1);
  if (missing.length > 0 || header.length !== COLUMNS.length) {
    return failure(at(1, `the header of the grid is not ${COLUMNS.join(',')}`, { received: lines[0] ?? '', expected: COLUMNS.join(',') }));
  }
  const nodes = readNodes(lines, places);
  return nodes.ok ? levelOf(nodes.value) : nodes;
}

interface Nodes {
  readonly latitudesDeg: number[];
  readonly longitudesDeg: number[];
  readonly heightsM: number[];
  readonly lineNumbers: number[];
}

function readNodes(lines: readonly string[], places: readonly number[]): Outcome<Nodes> {
  const nodes: Nodes = { latitudesDeg: [], longitudesDeg: [], heightsM: [], lineNumbers: [] };
  const [latitudeAt = 0, longitudeAt = 0, heightAt = 0] = places;
  for (let index = 1; index < lines.length; index += 1) {
    const line = lines[index] ?? '';
    if (line.trim() === '') continue;
    const cells = line.split(',');
    if (cells.length !== COLUMNS.length) return failure(at(index + 1, `${cells.length} cells instead of 3`, { received: line }));
    const heightText = cells[heightAt] ?? '';
    const latitudeDeg = parseDecimal(cells[latitudeAt] ?? '');
    const longitudeDeg = parseDecimal(cells[longitudeAt] ?? '');
    const heightM = heightText.trim() === '' ? Number.NaN : parseDecimal(heightText);
    if (latitudeDeg === null || longitudeDeg === null || heightM === null) {
      return failure(at(index + 1, 'a cell is not a decimal number', { received: line }));
    }
    nodes.latitudesDeg.push(latitudeDeg);
    nodes.longitudesDeg.push(longitudeDeg);
    nodes.heightsM.push(heightM);
    nodes.lineNumbers.push(index + 1);
  }
  return success(nodes);
}

function levelOf(nodes: Nodes): Outcome<GeoidFileContent> {
  const rowAxis = axisOf(nodes.latitudesDeg);
  const columnAxis = axisOf(nodes.longitudesDeg);
  if (typeof rowAxis === 'number') return failure(at(nodes.lineNumbers[rowAxis] ?? 1, 'the latitude is not on a regular grid', { received: String(nodes.latitudesDeg[rowAxis]) }));
  if (typeof columnAxis === 'number') return failure(at(nodes.lineNumbers[columnAxis] ?? 1, 'the longitude is not on a regular grid', { received: String(nodes.longitudesDeg[columnAxis]) }));
  const rows = rowAxis.count;
  const columns = columnAxis.count;
  const shape = { southDeg: rowAxis.first, westDeg: columnAxis.first, latitudeStepDeg: rowAxis.step, longitudeStepDeg: columnAxis.step, rows, columns };
  const wrong = gridShapeProblem(shape);
  if (wrong !== null) return failure(wrong);
  // Every node needs a row, so a sparse cloud of points cannot claim a large grid.
  if (rows * columns > Math.min(MAXIMUM_GRID_NODES, 4 * nodes.heightsM.length + 16)) return failure(gap(rows, columns, nodes.heightsM.length));
  const values = new Float64Array(rows * columns);
  const seen = new Uint8Array(rows * columns);
  for (let index = 0; index < nodes.heightsM.length; index += 1) {
    const row = Math.round(((nodes.latitudesDeg[index] ?? 0) - rowAxis.first) / rowAxis.step);
    const column = Math.round(((nodes.longitudesDeg[index] ?? 0) - columnAxis.first) / columnAxis.step);
    const node = row * columns + column;
    if (seen[node] === 1) return failure(at(nodes.lineNumbers[index] ?? 1, 'the node is given a second time', {}));
    seen[node] = 1;
    values[node] = nodes.heightsM[index] ?? Number.NaN;
  }
  const empty = seen.indexOf(0);
  if (empty >= 0) {
    const latitudeDeg = rowAxis.first + Math.floor(empty / columns) * rowAxis.step;
    const longitudeDeg = columnAxis.first + (empty % columns) * columnAxis.step;
    return failure({ ...gap(rows, columns, nodes.heightsM.length), received: `no row for latitude ${latitudeDeg} longitude ${longitudeDeg}` });
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

function at(line: number, message: string, detail: { readonly received?: string; readonly expected?: string }): Problem {
  return { code: 'grid-unreadable', severity: 'error', message, where: { line }, ...detail };
}
