import { createCsvWriter } from '../../io/csv/csv-write.js';
import type { CsvWriteOptions } from '../../io/csv/csv-write.js';
import { assertDistinct } from '../../io/tables/columns/distinct-columns.js';
import { createGeojsonWriter } from '../../io/geojson/geojson-write.js';
import type { GeojsonProperty } from '../../io/geojson/geojson-write.js';
import { cellColumns } from '../../io/tables/columns/cells/cell-text.js';
import type { CellColumn } from '../../io/tables/columns/cells/cell-text.js';
import { jsonCell } from '../../io/tables/columns/cells/json-cell.js';
import { pointCells } from '../../io/tables/points/point-cells.js';
import { createPointRowWriter } from '../../io/tables/points/point-row-write.js';
import { pointColumns } from '../../io/tables/points/point-columns.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { ReductionSetup } from '../../tasks/reduce/reduction-setup.js';

export type OutputFormat = 'csv' | 'geojson' | 'json' | 'jsonl';

/** Points in one of the output formats, piece by piece. */
export interface PointsWriter {
  readonly begin: () => string;
  /** Lays a point by for the next `take`. */
  readonly add: (point: ReducedPoint) => void;
  /** Bytes or characters laid by. */
  readonly size: () => number;
  /** Hands over what was laid by. Bytes stay as they are until the second `take` after this one. */
  readonly take: () => string | Uint8Array;
  /** Given: the answer of the run and its counts, which JSON says. */
  readonly end: (summary: Readonly<Record<string, unknown>>) => string;
}

/** What is said once about all points of a GeoJSON or JSON file. */
export interface PointsFrame {
  /** Code or name of the geographic system the positions are in. */
  readonly frame: string;
  readonly epochYear: number | null;
  /** Code or name of the grid system. */
  readonly system: string;
}

/** What is said of the points of a reduction; `epochYear` is that of the session, and counts where no shift takes them to another. */
export function pointsFrame(
  { fixesSystem, grid, shift }: Pick<ReductionSetup, 'fixesSystem' | 'grid' | 'shift'>,
  epochYear: number | null,
): PointsFrame {
  const system = shift === null || grid === null ? fixesSystem : grid.base;
  return {
    frame: system.code ?? system.name,
    epochYear: shift === null ? epochYear : null,
    // Without a grid none is named.
    system: grid?.code ?? grid?.name ?? '',
  };
}

/** A writer of reduced points. `passThrough` are the names of the input's other columns. */
export function createPointsWriter(
  format: OutputFormat,
  gridPair: readonly [string, string],
  passThrough: readonly string[],
  frame: PointsFrame,
  csv: CsvWriteOptions,
): PointsWriter {
  const columns: readonly CellColumn[] = [
    ...cellColumns(pointColumns(gridPair)),
    ...passThrough.map((name): CellColumn => ({ name, kind: 'text' })),
  ];
  switch (format) {
    case 'csv': {
      const names = columns.map(({ name }) => name);
      return { ...createPointRowWriter(names, csv), begin: createCsvWriter(names, csv).header, end: () => '' };
    }
    case 'geojson':
      return geojsonPoints(columns, frame);
    case 'jsonl':
    case 'json':
      return jsonPoints(columns, frame, format === 'jsonl');
  }
}

function geojsonPoints(columns: readonly CellColumn[], frame: PointsFrame): PointsWriter {
  const properties: readonly GeojsonProperty[] = [
    ...columns,
    { name: 'frame', kind: 'text' },
    { name: 'frame_epoch_year', kind: 'number' },
    { name: 'system', kind: 'text' },
  ];
  const said = [frame.frame, frame.epochYear === null ? '' : String(frame.epochYear), frame.system];
  const writer = createGeojsonWriter(properties);
  const add = (point: ReducedPoint): string =>
    writer.points([
      {
        latitudeDeg: point.position?.geodetic.latitudeDeg ?? null,
        longitudeDeg: point.position?.geodetic.longitudeDeg ?? null,
        ellipsoidalHeightM: point.position?.geodetic.ellipsoidalHeightM ?? null,
        cells: [...pointCells(point), ...said],
      },
    ]);
  return { begin: writer.begin, ...gathered(add), end: writer.end };
}

/** Text gathered point by point. */
function gathered(textOf: (point: ReducedPoint) => string): Pick<PointsWriter, 'add' | 'size' | 'take'> {
  let waiting = '';
  return {
    add(point) {
      waiting += textOf(point);
    },
    size: () => waiting.length,
    take() {
      const taken = waiting;
      waiting = '';
      return taken;
    },
  };
}

function jsonPoints(columns: readonly CellColumn[], frame: PointsFrame, areLines: boolean): PointsWriter {
  assertDistinct(columns.map(({ name }) => name));
  let first = true;
  const head = {
    schema: 'pegbook-points',
    version: 1,
    system: frame.system,
    frame: frame.frame,
    frame_epoch_year: frame.epochYear,
  };
  const one = (point: ReducedPoint): string => {
    const cells = pointCells(point);
    // On the way of a row: not asked for each cell.
    return `{${columns.map(({ name, kind }, index) => `${JSON.stringify(name)}:${jsonCell(cells[index] ?? '', kind)}`).join(',')}}`;
  };
  return {
    begin: () => (areLines ? '' : `${JSON.stringify(head).slice(0, -1)},"points":[`),
    ...gathered((point) => {
      const text = areLines ? `${one(point)}\n` : (first ? '\n' : ',\n') + one(point);
      first = false;
      return text;
    }),
    end: (summary) => (areLines ? '' : `${first ? '' : '\n'}],"summary":${JSON.stringify(summary)}}\n`),
  };
}
