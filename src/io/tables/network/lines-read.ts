import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { LineRow } from '../../../records/network-rows.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import type { Draft } from '../../../records/draft.js';
import { readWholeTable } from '../columns/read-table.js';

/** A row with the columns of the air apart. */
interface FlatLine extends Omit<LineRow, 'air'> {
  readonly temperatureC: number | null;
  readonly pressureHpa: number | null;
  readonly humidityPercent: number | null;
  readonly wetBulbC: number | null;
  readonly wavelengthUm: number | null;
  readonly referenceIndex: number | null;
}

type AirOf = Exclude<keyof FlatLine, keyof LineRow> | 'zenithDeg';

const air = (name: string, member: AirOf, range: readonly [number, number], describe: string): Column<FlatLine> =>
  column({
    name,
    kind: 'number',
    range,
    describe,
    put: (row: Draft<FlatLine>, value: number) => (row[member] = value),
  });

/** Which of the two tables of single numbers between two stations. */
export type LineTable = 'levelled' | 'distances';

const ENDS: readonly Column<FlatLine>[] = [
  column({
    name: 'from_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.fromId = id),
    describe: 'where it begins',
  }),
  column({ name: 'to_id', kind: 'id', isNeeded: true, put: (row, id) => (row.toId = id), describe: 'where it ends' }),
];
const SIGMA: Column<FlatLine> = column({
  name: 'sigma_m',
  kind: 'number',
  isNeeded: true,
  range: [1e-5, 100],
  put: (row, sigmaM) => (row.sigmaM = sigmaM),
  describe: 'its sigma',
});

const COLUMNS: Readonly<Record<LineTable, readonly Column<FlatLine>[]>> = {
  levelled: [
    ...ENDS,
    column({
      name: 'orthometric_height_difference_m',
      kind: 'number',
      isNeeded: true,
      range: [-10_000, 10_000],
      put: (row, valueM) => (row.valueM = valueM),
      describe: 'to minus from',
    }),
    SIGMA,
  ],
  distances: [
    ...ENDS,
    column({
      name: 'slope_distance_m',
      kind: 'number',
      isNeeded: true,
      range: [0.1, 100_000],
      put: (row, valueM) => (row.valueM = valueM),
      describe: 'along the line; corrected for the air, unless the row states it',
    }),
    SIGMA,
    column({
      name: 'instrument_height_m',
      kind: 'number',
      range: [-10, 100],
      put: (row, upM) => (row.fromUpM = upM),
      describe: 'of the instrument above its mark',
    }),
    column({
      name: 'target_height_m',
      kind: 'number',
      range: [-10, 100],
      put: (row, upM) => (row.toUpM = upM),
      describe: 'of the target above its mark',
    }),
    air('zenith_deg', 'zenithDeg', [0, 180], 'zenith angle at the instrument: brings the line to the marks'),
    air('temperature_c', 'temperatureC', [-60, 70], 'of the air, of a distance not corrected for it'),
    air('pressure_hpa', 'pressureHpa', [300, 1200], 'of the air, not reduced to sea level'),
    air('humidity_percent', 'humidityPercent', [0, 100], 'relative humidity, or the wet bulb'),
    air('wet_bulb_c', 'wetBulbC', [-60, 70], 'temperature of the wet bulb, or the humidity'),
    air('carrier_wavelength_um', 'wavelengthUm', [0.3, 2], 'of the instrument'),
    air('reference_refractive_index', 'referenceIndex', [1.0001, 1.0006], 'that the instrument reckons with'),
  ],
};

/**
 * Reads levelled height differences (`from_id, to_id, orthometric_height_difference_m, sigma_m`) or distances (`from_id, to_id,
 * slope_distance_m, sigma_m`, heights of instrument and target above their marks where the distance is between those, the zenith
 * angle, and the air with what the instrument reckons with where the distance is not corrected for it).
 * Problems: those of the table and its cells; value-out-of-range for a line from a station to itself; value-missing for an air that
 * is stated in part; nothing is returned when any row is bad.
 */
export async function readLines(
  table: CsvTable,
  sourceIndex: number,
  kind: LineTable,
): Promise<Outcome<readonly LineRow[]>> {
  const read = await readWholeTable<FlatLine>(table, {
    columns: COLUMNS[kind],
    blank: (line) => ({
      fromId: '',
      toId: '',
      valueM: NaN,
      sigmaM: NaN,
      fromUpM: 0,
      toUpM: 0,
      zenithDeg: null,
      temperatureC: null,
      pressureHpa: null,
      humidityPercent: null,
      wetBulbC: null,
      wavelengthUm: null,
      referenceIndex: null,
      place: { sourceIndex, line },
    }),
    check(row, cells) {
      if (cells.problems.length > 0) return;
      if (row.fromId === row.toId)
        cells.report('value-out-of-range', cells.column('to_id'), `the line goes from ${row.fromId} to itself`);
      else if (isPartly(row))
        cells.report(
          'value-missing',
          cells.column('slope_distance_m'),
          'the air of the line is stated in part',
          'fill temperature_c, pressure_hpa, one of humidity_percent and wet_bulb_c, carrier_wavelength_um and reference_refractive_index; or leave all of them empty where the distance is corrected for the air',
        );
    },
  });
  return read.ok ? success(read.value.map(lineRow), read.problems) : read;
}

const airOf = (row: FlatLine): readonly (number | null)[] => [
  row.temperatureC,
  row.pressureHpa,
  row.wavelengthUm,
  row.referenceIndex,
];

/** Some of the air, and not all of it. */
function isPartly(row: FlatLine): boolean {
  const vapours = [row.humidityPercent, row.wetBulbC].filter((value) => value !== null).length;
  const isNone = vapours === 0 && airOf(row).every((value) => value === null);
  return !isNone && (vapours !== 1 || airOf(row).includes(null));
}

function lineRow(row: FlatLine): LineRow {
  const { temperatureC, pressureHpa, humidityPercent, wetBulbC, wavelengthUm, referenceIndex, ...rest } = row;
  const vapour = wetBulbC !== null ? { wetBulbC } : humidityPercent !== null ? { humidityPercent } : null;
  return {
    ...rest,
    air:
      temperatureC === null ||
      pressureHpa === null ||
      vapour === null ||
      wavelengthUm === null ||
      referenceIndex === null
        ? null
        : { temperatureC, pressureHpa, vapour, wavelengthUm, referenceIndex },
  };
}
