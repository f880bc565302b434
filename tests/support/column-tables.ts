import { checkColumns, CLASS_COLUMNS } from '../../src/cli/commands/check-tolerances/check-columns.js';
import { AREA_COLUMNS } from '../../src/cli/commands/join-points/area-columns.js';
import { CHANGE_COLUMNS } from '../../src/cli/commands/compare-runs/change-columns.js';
import { joinColumns } from '../../src/cli/commands/join-points/join-columns.js';
import { RUN_COLUMNS } from '../../src/cli/commands/list-runs/run-columns.js';
import { everyArrivedColumn } from '../../src/cli/commands/transform/transform-columns.js';
import { EPOCH_COLUMNS } from '../../src/cli/outputs/epoch-columns.js';
import { FIX_COLUMNS } from '../../src/io/tables/fixes/fix-columns.js';
import { OCCUPATION_COLUMNS } from '../../src/io/tables/fixes/occupation-columns.js';
import { PAIR_COLUMNS } from '../../src/io/tables/pairs-read.js';
import { POINT_FILE_COLUMNS, pointColumns } from '../../src/io/tables/points/point-columns.js';
import { POLAR_COLUMNS } from '../../src/io/tables/polar-read.js';
import type { ColumnsInPage } from '../../tools/render-columns.js';

const EAST_NORTH = { first: 'easting', second: 'northing', sign: 1, metresPerUnit: 1 } as const;

/** The tables of columns that stand in docs/file-formats.md. */
export const COLUMN_TABLES: readonly ColumnsInPage[] = [
  { name: 'fixes', columns: FIX_COLUMNS, says: 'read' },
  { name: 'occupations', columns: OCCUPATION_COLUMNS, says: 'read' },
  { name: 'points', columns: pointColumns(['easting_m', 'northing_m']), says: 'both' },
  { name: 'control', columns: POINT_FILE_COLUMNS.beside, says: 'read' },
  { name: 'pairs', columns: PAIR_COLUMNS, says: 'read' },
  { name: 'polar lines', columns: POLAR_COLUMNS, says: 'read' },
  { name: 'lines', columns: joinColumns(true), says: 'written' },
  { name: 'runs', columns: RUN_COLUMNS, says: 'written' },
  { name: 'run changes', columns: CHANGE_COLUMNS, says: 'written' },
  { name: 'areas', columns: AREA_COLUMNS, says: 'written' },
  { name: 'epochs', columns: EPOCH_COLUMNS, says: 'written' },
  { name: 'points carried over', columns: everyArrivedColumn(['easting_m', 'northing_m']), says: 'written' },
  { name: 'checks', columns: checkColumns(EAST_NORTH), says: 'written' },
  { name: 'classes', columns: CLASS_COLUMNS, says: 'written' },
];
