import { DESIGN_COLUMNS } from '../../src/cli/commands/design-grid/design-columns.js';
import { TRANSFER_COLUMNS } from '../../src/cli/commands/fit-site/transfer-columns.js';
import { registerColumns } from '../../src/cli/commands/check-tolerances/register/register-columns.js';
import { checkColumns, CLASS_COLUMNS } from '../../src/cli/commands/check-tolerances/check-columns.js';
import { AREA_COLUMNS } from '../../src/cli/commands/join-points/area-columns.js';
import { CHANGE_COLUMNS } from '../../src/cli/commands/compare-runs/change-columns.js';
import { joinColumns } from '../../src/cli/commands/join-points/join-columns.js';
import { AVAILABILITY_COLUMNS, OUTAGE_COLUMNS } from '../../src/cli/commands/inspect-corrections/say/link-columns.js';
import { MESSAGE_COLUMNS } from '../../src/cli/commands/inspect-corrections/say/message-columns.js';
import { positionColumns } from '../../src/cli/commands/inspect-corrections/say/position-columns.js';
import { RUN_COLUMNS } from '../../src/cli/commands/list-runs/run-columns.js';
import { everyArrivedColumn } from '../../src/cli/commands/transform/transform-columns.js';
import { EPOCH_COLUMNS } from '../../src/cli/outputs/epoch-columns.js';
import { coverageColumns } from '../../src/cli/commands/plan-baseline/say/coverage-columns.js';
import { allPlanColumns } from '../../src/cli/commands/plan-baseline/say/plan-columns.js';
import {
  BASE_COLUMNS,
  EXCLUDED_COLUMNS,
  RANGE_COLUMNS,
  RANKING_COLUMNS,
  REACH_COLUMNS,
  TIE_COLUMNS,
} from '../../src/cli/commands/plan-baseline/say/siting-columns.js';
import { SKY_COLUMNS } from '../../src/cli/commands/plan-sky/say/sky-columns.js';
import { SITE_COLUMNS } from '../../src/cli/commands/plan-sky/say/sky-site-columns.js';
import { TRACK_COLUMNS } from '../../src/cli/commands/plan-sky/say/track-columns.js';
import { WINDOW_COLUMNS } from '../../src/cli/commands/plan-sky/say/window-columns.js';
import { TIMETABLE_COLUMNS } from '../../src/cli/commands/plan-baseline/say/timetable-columns.js';
import { CANDIDATE_COLUMNS } from '../../src/io/tables/candidate-columns.js';
import { FIX_COLUMNS } from '../../src/io/tables/fixes/fix-table.js';
import { OCCUPATION_COLUMNS } from '../../src/io/tables/fixes/occupation-columns.js';
import { MASK_COLUMNS } from '../../src/io/tables/mask-read.js';
import { SKY_WINDOW_COLUMNS } from '../../src/io/tables/sky-window-read.js';
import { OCCUPATION_SKY_COLUMNS } from '../../src/cli/commands/reduce-points/say/occupation-sky-columns.js';
import { PAIR_COLUMNS } from '../../src/io/tables/pairs-read.js';
import { POINT_FILE_COLUMNS, pointColumns } from '../../src/io/tables/points/point-columns.js';
import { POLAR_COLUMNS } from '../../src/io/tables/polar-read.js';
import type { ColumnsInPage } from '../../tools/render-columns.js';

const EAST_NORTH = { first: 'easting', second: 'northing', signs: [1, 1], metresPerUnit: 1 } as const;
const { ring, point, baseline } = coverageColumns('EPSG:4326');

/** The tables of columns that stand in docs/file-formats.md. */
export const COLUMN_TABLES: readonly ColumnsInPage[] = [
  { name: 'fixes', columns: FIX_COLUMNS, says: 'read' },
  { name: 'occupations', columns: OCCUPATION_COLUMNS, says: 'read' },
  { name: 'points', columns: pointColumns(['easting_m', 'northing_m']), says: 'both' },
  { name: 'control', columns: POINT_FILE_COLUMNS.beside, says: 'read' },
  { name: 'pairs', columns: PAIR_COLUMNS, says: 'read' },
  { name: 'polar lines', columns: POLAR_COLUMNS, says: 'read' },
  { name: 'lines', columns: joinColumns(true), says: 'written' },
  { name: 'points of a project grid', columns: DESIGN_COLUMNS, says: 'written' },
  { name: 'height transfers', columns: TRANSFER_COLUMNS, says: 'written' },
  { name: 'stream messages', columns: MESSAGE_COLUMNS, says: 'written' },
  { name: 'outages', columns: OUTAGE_COLUMNS, says: 'written' },
  { name: 'availability', columns: AVAILABILITY_COLUMNS, says: 'written' },
  { name: 'stream stations', columns: positionColumns(null), says: 'written' },
  { name: 'runs', columns: RUN_COLUMNS, says: 'written' },
  { name: 'run changes', columns: CHANGE_COLUMNS, says: 'written' },
  { name: 'areas', columns: AREA_COLUMNS, says: 'written' },
  { name: 'epochs', columns: EPOCH_COLUMNS, says: 'written' },
  { name: 'points carried over', columns: everyArrivedColumn(['easting_m', 'northing_m']), says: 'written' },
  { name: 'checks', columns: checkColumns(EAST_NORTH), says: 'written' },
  { name: 'register', columns: registerColumns(EAST_NORTH), says: 'written' },
  { name: 'classes', columns: CLASS_COLUMNS, says: 'written' },
  { name: 'candidates', columns: CANDIDATE_COLUMNS, says: 'read' },
  { name: 'plan', columns: allPlanColumns(), says: 'written' },
  { name: 'bases of a plan', columns: BASE_COLUMNS, says: 'written' },
  { name: 'ranking', columns: RANKING_COLUMNS, says: 'written' },
  { name: 'excluded candidates', columns: EXCLUDED_COLUMNS, says: 'written' },
  { name: 'ties', columns: TIE_COLUMNS, says: 'written' },
  { name: 'ranges', columns: RANGE_COLUMNS, says: 'written' },
  { name: 'reach', columns: REACH_COLUMNS, says: 'written' },
  { name: 'rings', columns: ring, says: 'written' },
  { name: 'covered points', columns: point, says: 'written' },
  { name: 'baselines', columns: baseline, says: 'written' },
  { name: 'timetable', columns: TIMETABLE_COLUMNS, says: 'written' },
  { name: 'masks', columns: MASK_COLUMNS, says: 'read' },
  { name: 'sky', columns: SKY_COLUMNS, says: 'written' },
  { name: 'occupation sky', columns: OCCUPATION_SKY_COLUMNS, says: 'written' },
  { name: 'sky windows read', columns: SKY_WINDOW_COLUMNS, says: 'read' },
  { name: 'sky windows', columns: WINDOW_COLUMNS, says: 'written' },
  { name: 'sky tracks', columns: TRACK_COLUMNS, says: 'written' },
  { name: 'sky sites', columns: SITE_COLUMNS, says: 'written' },
];
