import { CANDIDATE_COLUMNS } from '../../io/tables/candidate-columns.js';
import type { DescribedColumn } from '../../io/tables/columns/column.js';
import { FIX_COLUMNS } from '../../io/tables/fixes/fix-table.js';
import { POINT_FILE_COLUMNS, pointColumns } from '../../io/tables/points/point-columns.js';
import { checkColumns, CLASS_COLUMNS } from '../commands/check-tolerances/check-columns.js';
import { ISO_COLUMNS } from '../commands/check-tolerances/iso/iso-columns.js';
import { DESIGN_COLUMNS } from '../commands/design-grid/design-columns.js';
import { AVAILABILITY_COLUMNS, OUTAGE_COLUMNS } from '../commands/inspect-corrections/say/link-columns.js';
import { MESSAGE_COLUMNS } from '../commands/inspect-corrections/say/message-columns.js';
import { AREA_COLUMNS, ELLIPSOID_AREA_COLUMNS } from '../commands/join-points/area-columns.js';
import { ELLIPSOID_COLUMNS, joinColumns } from '../commands/join-points/join-columns.js';
import { allPlanColumns } from '../commands/plan-baseline/say/plan-columns.js';
import { TIMETABLE_COLUMNS } from '../commands/plan-baseline/say/timetable-columns.js';
import { SKY_COLUMNS } from '../commands/plan-sky/say/sky-columns.js';
import { SITE_COLUMNS } from '../commands/plan-sky/say/sky-site-columns.js';
import { TRACK_COLUMNS } from '../commands/plan-sky/say/track-columns.js';
import { WINDOW_COLUMNS } from '../commands/plan-sky/say/window-columns.js';
import { everyArrivedColumn } from '../commands/transform/transform-columns.js';
import { EPOCH_COLUMNS } from './epoch-columns.js';

/** Names of grid axes that columns may carry. */
const PAIRS = [
  ['easting', 'northing'],
  ['westing', 'southing'],
] as const;

/** Every column that a table of ours may have, by its name; of two of one name the first that is listed here. */
export function knownColumns(): ReadonlyMap<string, DescribedColumn> {
  const all = new Map<string, DescribedColumn>();
  for (const column of listed()) if (!all.has(column.name)) all.set(column.name, column);
  return all;
}

function listed(): readonly DescribedColumn[] {
  return [
    ...PAIRS.flatMap(([first, second]) => [
      ...pointColumns([`${first}_m`, `${second}_m`]),
      ...everyArrivedColumn([`${first}_m`, `${second}_m`]),
      ...checkColumns({ first, second, signs: [1, 1], metresPerUnit: 1 }),
    ]),
    ...EPOCH_COLUMNS,
    ...CLASS_COLUMNS,
    ...ISO_COLUMNS,
    ...joinColumns(false),
    ...ELLIPSOID_COLUMNS,
    ...AREA_COLUMNS,
    ...ELLIPSOID_AREA_COLUMNS,
    ...allPlanColumns(),
    ...TIMETABLE_COLUMNS,
    ...SKY_COLUMNS,
    ...SITE_COLUMNS,
    ...TRACK_COLUMNS,
    ...WINDOW_COLUMNS,
    ...DESIGN_COLUMNS,
    ...MESSAGE_COLUMNS,
    ...OUTAGE_COLUMNS,
    ...AVAILABILITY_COLUMNS,
    ...FIX_COLUMNS,
    ...POINT_FILE_COLUMNS.beside,
    ...CANDIDATE_COLUMNS,
  ];
}
