import { createGeojsonShapeWriter } from '../../../io/geojson/geojson-shape-write.js';
import { failure } from '../../../records/outcome.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import { entryAt, present } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import type { NetworkObservationResult, NetworkPair } from '../../../records/reports/network-report.js';
import type { NetworkPlaces } from '../../../tasks/network/input/assemble-network.js';
import { explainStation } from '../../../tasks/network/explain/explain-network.js';
import type { NetworkResults } from '../../../tasks/network/network-results.js';
import { networkShapes } from '../../../tasks/network/page/network-shapes.js';
import { unknownStation } from '../../../tasks/network/input/unknown-station.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { WrittenRecord } from '../../outputs/record-writer.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import { StopError } from '../../shell/run/stop.js';
import type { Workbench } from '../../shell/workbench.js';
import {
  networkPointCells,
  networkPointColumns,
  OBSERVATION_COLUMNS,
  observationCells,
} from './say/network-columns.js';
import { networkWhole } from './say/network-json.js';
import { shapeProperties } from './say/shape-properties.js';

/** Of each entry something, made when it is asked for: the texts of all rows at once would be larger than all else. */
function* mapped<From, To>(list: Iterable<From>, of: (entry: From) => To): Generator<To> {
  for (const entry of list) yield of(entry);
}

/** What --explain asks for, worked through; nothing without the option. */
function workedStation(results: NetworkResults, wanted: string | null): readonly WorkedPoint[] {
  if (wanted === null) return [];
  const { points } = results;
  const point = points.find(({ id }) => id === wanted);
  if (point === undefined)
    throw new StopError([
      unknownStation(
        wanted,
        points.map(({ id }) => id),
      ),
    ]);
  return [{ title: `Station ${point.id}`, steps: explainStation(results, point) }];
}

/** The points, and what --explain asks for, which takes the place of the points on standard output; returned for the page. */
export async function writePoints(
  bench: Workbench,
  results: NetworkResults,
  pairs: readonly NetworkPair[],
): Promise<readonly WorkedPoint[]> {
  const { invocation, format } = bench;
  const { points, systems } = results;
  const output = textOption(invocation, 'output');
  const worked = workedStation(results, textOption(invocation, 'explain'));
  if (worked.length > 0) {
    await writeWorked(await bench.open('-'), worked);
    if (output === null || output === '-') return worked;
  }
  const { grid } = systems;
  const { summary, ...whole } = networkWhole(results, pairs);
  const rows = mapped(points, (point): WrittenRecord => ({
    cells: networkPointCells(point, grid),
    geometry:
      point.geodetic === null
        ? { kind: 'lines', lines: [] }
        : { kind: 'point', place: point.geodetic, ellipsoidalHeightM: point.geodetic.ellipsoidalHeightM },
  }));
  const head = {
    schema: 'pegbook-network',
    list: 'points',
    members: {
      system: grid === null ? null : (grid.code ?? grid.name),
      frame: grid === null ? null : (grid.base.code ?? grid.base.name),
    },
    summary,
    whole,
  };
  const sink = await bench.open(output ?? '-');
  for (const piece of recordPieces(format, networkPointColumns(grid), rows, head, csvWriteOptions(invocation)))
    await sink.write(piece);
  return worked;
}

/** Every observation, in the order of the input. */
export async function writeObservations(
  bench: Workbench,
  places: NetworkPlaces,
  observations: readonly NetworkObservationResult[],
): Promise<void> {
  const path = textOption(bench.invocation, 'observations');
  if (path === null) return;
  const order = inputOrder(observations.map(({ kind, index }) => entryAt(places[kind], index).rank));
  const rows = mapped(order, (at): WrittenRecord => {
    const row = entryAt(observations, at);
    return {
      cells: observationCells(row, entryAt(places[row.kind], row.index)),
      geometry: { kind: 'lines', lines: [] },
    };
  });
  const sink = await bench.open(path);
  const head = { schema: 'pegbook-network-observations', list: 'observations', members: {}, summary: null };
  for (const piece of recordPieces('csv', OBSERVATION_COLUMNS, rows, head, csvWriteOptions(bench.invocation)))
    await sink.write(piece);
}

/** Places in order of their ranks. */
function inputOrder(ranks: readonly number[]): Int32Array {
  return Int32Array.from(ranks.keys()).sort((a, b) => entryAt(ranks, a) - entryAt(ranks, b));
}

/**
 * One line a station: its own block, geocentric, m²; then one line a pair asked for: the block between the two, the rows of the
 * first and the columns of the second, which has no symmetry.
 */
export async function writeCovariances(
  bench: Workbench,
  { adjusted, relations }: NetworkResults,
  pairs: readonly Pick<NetworkPair, 'fromId' | 'toId'>[],
): Promise<void> {
  const path = textOption(bench.invocation, 'covariances');
  if (path === null) return;
  const sink = await bench.open(path);
  const { stations, indexOf } = adjusted.final.solved.list;
  for (const [index, { id }] of stations.entries()) {
    const [xx, xy, xz, , yy, yz, , , zz] = toWrite(relations.block(index, index));
    const row =
      xy === undefined
        ? { point_id: id, height_m2: xx }
        : { point_id: id, xx_m2: xx, xy_m2: xy, xz_m2: xz, yy_m2: yy, yz_m2: yz, zz_m2: zz };
    await sink.write(`${JSON.stringify(row)}\n`);
  }
  const axesOf = (index: number): readonly string[] => (entryAt(stations, index).place === null ? ['height'] : AXES);
  for (const { fromId, toId } of pairs) {
    const [from, to] = [fromId, toId].map((id) => present(indexOf.get(id), 'a station of a pair')) as [number, number];
    const block = toWrite(relations.block(from, to));
    const names = axesOf(from).flatMap((row) => axesOf(to).map((column) => memberName(row, column)));
    const members = Object.fromEntries(names.map((name, at) => [name, entryAt(block, at)]));
    await sink.write(`${JSON.stringify({ from_id: fromId, to_id: toId, ...members })}\n`);
  }
}

const AXES = ['x', 'y', 'z'] as const;

function memberName(row: string, column: string): string {
  return row.length === 1 && column.length === 1 ? `${row}${column}_m2` : `${row}_${column}_m2`;
}

/** To the last digit that is kept, without a negative zero. */
function toWrite(block: Float64Array): readonly number[] {
  return Array.from(block, (value) => Math.round(value * 1e15) / 1e15 + 0);
}

/** How many times larger than the ground ellipses are drawn, where nothing is said: millimetres become metres. */
const DEFAULT_ELLIPSE_SCALE = 1000;

/** Observations as lines and 95 % ellipses as areas, for a map. */
export async function writeShapes(
  bench: Workbench,
  results: NetworkResults,
  pairs: readonly NetworkPair[],
): Promise<void> {
  const path = textOption(bench.invocation, 'shapes');
  const stated = numberOption(bench.invocation, 'ellipseScale');
  if (path === null && stated === null) return;
  const scale = stated ?? DEFAULT_ELLIPSE_SCALE;
  if (path === null || !(scale >= 1 && scale <= 1e6))
    return bench.take(
      failure(
        path === null
          ? errorProblem('usage-conflict', { message: '--ellipse-scale needs --shapes', hint: 'add --shapes FILE' })
          : errorProblem('usage-invalid', {
              message: '--ellipse-scale is from 1 to 1,000,000',
              received: String(scale),
            }),
      ),
    );
  const sink = await bench.open(path);
  const { grid } = results.systems;
  const frame = grid === null ? null : (grid.base.code ?? grid.base.name);
  const writer = createGeojsonShapeWriter();
  await sink.write(writer.begin());
  for (const shape of networkShapes(results, pairs, scale))
    await sink.write(writer.feature(shape.geometry, shapeProperties(shape, scale, frame)));
  await sink.write(writer.end());
}
