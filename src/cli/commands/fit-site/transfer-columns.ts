import { column } from '../../../io/tables/columns/column.js';
import type { Column, ColumnUnit } from '../../../io/tables/columns/column.js';
import type { TestedTransfer } from '../../../tasks/site/surface/height-transfers.js';

type TransferColumn = Column<never, TestedTransfer>;

/** Values of tests are written to these. */
const TEST_DECIMALS = 3;

const length = (name: string, get: (row: TestedTransfer) => number, describe: string): TransferColumn =>
  column({ name, kind: 'number', unit: 'm' satisfies ColumnUnit, get, describe });

/** Columns of heights carried between two points, in order. */
export const TRANSFER_COLUMNS: readonly TransferColumn[] = [
  column({
    name: 'kind',
    kind: 'word',
    get: (row) => row.kind,
    describe: 'what it is held against: `benchmarks`, or a `levelled` line',
  }),
  column({ name: 'from_id', kind: 'id', get: (row) => row.fromId, describe: 'where the height comes from' }),
  column({ name: 'to_id', kind: 'id', get: (row) => row.toId, describe: 'where it is carried to' }),
  length('grid_distance_m', (row) => row.distanceM, 'between them'),
  length('known_difference_m', (row) => row.knownM, 'of the heights of the benchmarks, or levelled'),
  length('transferred_difference_m', (row) => row.transferredM, 'measured over the geoid, with the trend'),
  length('misclosure_m', (row) => row.misclosureM, 'transferred minus known'),
  length('sigma_m', (row) => row.sigmaM, 'one sigma of the misclosure'),
  column({
    name: 'test',
    kind: 'number',
    decimals: TEST_DECIMALS,
    get: (row) => row.testValue,
    describe: 'misclosure over its sigma',
  }),
  length('class_limit_m', (row) => row.classLimitM, 'the class of levelling, k √km'),
  column({
    name: 'within_class',
    kind: 'word',
    get: (row) => (row.isWithinClass ? 'yes' : 'no'),
    describe: '`yes` or `no`',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: (row) => row.answer,
    describe: '`within`, `review` beyond the class, `no` beyond its sigma',
  }),
];
