import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { ControlHold, NetworkControlRow } from '../../../records/network-rows.js';
import { largestOf } from '../../../core/numeric/extremes.js';
import { writtenRounding } from '../../../core/numeric/text/written-rounding.js';
import type { RowCells } from '../../csv/cell-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import type { Draft } from '../../../records/draft.js';
import { readWholeTable } from '../columns/read-table.js';
import type { AxisNames } from '../points/point-row-columns.js';

const HOLDS: ReadonlyMap<string, ControlHold> = new Map<string, ControlHold>([
  ['fixed', 'fixed'],
  ['weighted', 'weighted'],
  ['plan', 'plan'],
  ['height', 'height'],
]);

/** A row with the three geocentric numbers apart. */
interface FlatControl extends Omit<NetworkControlRow, 'geocentric'> {
  readonly xM: number | null;
  readonly yM: number | null;
  readonly zM: number | null;
}

type NumberOf = Exclude<keyof FlatControl, 'pointId' | 'held' | 'place' | 'roundings' | 'latitudeDeg' | 'longitudeDeg'>;

function controlColumns(axes: AxisNames | null): readonly Column<FlatControl>[] {
  const number = (
    name: string,
    member: NumberOf,
    range: readonly [number, number],
    describe: string,
  ): Column<FlatControl> =>
    column({
      name,
      kind: 'number',
      range,
      describe,
      put: (row: Draft<FlatControl>, value: number) => (row[member] = value),
    });
  return [
    column({
      name: 'point_id',
      kind: 'id',
      isNeeded: true,
      put: (row, id) => (row.pointId = id),
      describe: 'the point',
    }),
    number('x_m', 'xM', [-1e8, 1e8], 'geocentric X'),
    number('y_m', 'yM', [-1e8, 1e8], 'geocentric Y'),
    number('z_m', 'zM', [-1e8, 1e8], 'geocentric Z'),
    ...(axes === null
      ? []
      : [
          number(axes[0], 'gridFirst', [-1e9, 1e9], 'the grid pair of the system'),
          number(axes[1], 'gridSecond', [-1e9, 1e9], 'the grid pair of the system'),
        ]),
    column({
      name: 'latitude_deg',
      kind: 'latitude',
      put: (row, value) => (row.latitudeDeg = value),
      describe: 'latitude',
    }),
    column({
      name: 'longitude_deg',
      kind: 'longitude',
      put: (row, value) => (row.longitudeDeg = value),
      describe: 'longitude',
    }),
    number('ellipsoidal_height_m', 'ellipsoidalHeightM', [-12_000, 100_000], 'ellipsoidal height'),
    number('orthometric_height_m', 'orthometricHeightM', [-12_000, 100_000], 'orthometric height'),
    number('sigma_horizontal_m', 'sigmaHorizontalM', [0, 1e6], 'sigma of each horizontal axis'),
    number('sigma_vertical_m', 'sigmaVerticalM', [0, 1e6], 'sigma of the height'),
    column({ name: 'held', kind: 'word', words: HOLDS, put: (row, held) => (row.held = held), describe: 'what holds' }),
  ];
}

/**
 * Reads the control of a network: `point_id`, a place as `x_m, y_m, z_m`, as latitude and longitude or as the grid pair of the
 * system, heights, sigmas and `held`. A row may hold an orthometric height alone.
 * Problems: those of the table and its cells; value-missing for half a place, or none; value-duplicate-id; nothing is returned
 * when any row is bad.
 */
export async function readNetworkControl(
  table: CsvTable,
  sourceIndex: number,
  mapping: ColumnMapping,
  axes: AxisNames | null,
): Promise<Outcome<readonly NetworkControlRow[]>> {
  const seen = new Set<string>();
  const read = await readWholeTable<FlatControl>(
    table,
    {
      columns: controlColumns(axes),
      heights: ['ellipsoidal_height_m', 'orthometric_height_m', 'z_m'],
      blank: (line) => ({
        pointId: '',
        xM: null,
        yM: null,
        zM: null,
        gridFirst: null,
        gridSecond: null,
        latitudeDeg: null,
        longitudeDeg: null,
        ellipsoidalHeightM: null,
        orthometricHeightM: null,
        sigmaHorizontalM: null,
        sigmaVerticalM: null,
        held: null,
        place: { sourceIndex, line },
      }),
      check(row, cells) {
        if (cells.problems.length > 0) return;
        const id = cells.column('point_id');
        const problem = faultOf(row, axes);
        if (seen.has(row.pointId))
          cells.report('value-duplicate-id', id, `${row.pointId} is there twice`, 'keep one row of each control point');
        else if (problem !== null) cells.report('value-missing', id, problem.message, problem.hint);
        else {
          seen.add(row.pointId);
          row.roundings = roundingsOf(axes, cells);
        }
      },
    },
    mapping,
  );
  return read.ok ? success(read.value.map(controlRow), read.problems) : read;
}

/** Half a unit of the last digits of each form of the place; 0 of one that is not there. */
function roundingsOf(axes: AxisNames | null, cells: RowCells): NonNullable<FlatControl['roundings']> {
  const coarsest = (...names: readonly string[]): number =>
    largestOf(
      names.map((name) => writtenRounding(cells.text(cells.column(name)))),
      0,
    );
  return {
    geocentricM: coarsest('x_m', 'y_m', 'z_m'),
    gridUnits: axes === null ? 0 : coarsest(...axes),
    angleDeg: coarsest('latitude_deg', 'longitude_deg'),
    heightM: coarsest('ellipsoidal_height_m'),
  };
}

function faultOf(row: FlatControl, axes: AxisNames | null): { readonly message: string; readonly hint: string } | null {
  const sets = [
    [row.xM, row.yM, row.zM],
    [row.gridFirst, row.gridSecond],
    [row.latitudeDeg, row.longitudeDeg],
  ];
  if (sets.some((set) => set.some((value) => value !== null) && set.includes(null)))
    return { message: `${row.pointId} has only a part of a place`, hint: 'fill its cells, or leave all of them empty' };
  const hasPlace = sets.some((set) => !set.includes(null));
  if (row.xM === null && row.ellipsoidalHeightM === null && row.orthometricHeightM === null)
    return {
      message: `${row.pointId} has no height`,
      hint: 'a place on the ground needs a height too, if only a rough one with held plan',
    };
  if (!hasPlace && row.orthometricHeightM === null)
    return {
      message: `${row.pointId} has no place`,
      hint: axes === null ? 'grid coordinates need --system' : 'give a place, or an orthometric height alone',
    };
  return null;
}

function controlRow({ xM, yM, zM, ...rest }: FlatControl): NetworkControlRow {
  return { ...rest, geocentric: xM === null || yM === null || zM === null ? null : { xM, yM, zM } };
}
