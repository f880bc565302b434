import { columnGroups, readWords, writtenWords } from '../../../io/tables/columns/column-words.js';
import type { DescribedColumn } from '../../../io/tables/columns/column.js';
import { CANDIDATE_COLUMNS } from '../../../io/tables/candidate-columns.js';
import { allPlanColumns } from '../../commands/plan-baseline/say/plan-columns.js';
import { SKY_COLUMNS } from '../../commands/plan-sky/say/sky-columns.js';
import { WINDOW_COLUMNS } from '../../commands/plan-sky/say/window-columns.js';
import { MASK_COLUMNS } from '../../../io/tables/mask-read.js';
import { TIMETABLE_COLUMNS } from '../../commands/plan-baseline/say/timetable-columns.js';
import { FIX_COLUMNS } from '../../../io/tables/fixes/fix-table.js';
import { OCCUPATION_COLUMNS } from '../../../io/tables/fixes/occupation-columns.js';
import { POINT_FILE_COLUMNS, pointColumns } from '../../../io/tables/points/point-columns.js';
import { checkColumns, CLASS_COLUMNS } from '../../commands/check-tolerances/check-columns.js';
import { everyArrivedColumn } from '../../commands/transform/transform-columns.js';
import { EPOCH_COLUMNS } from '../../outputs/epoch-columns.js';
import { PROBLEM_CODES } from '../../../records/codes/problem-codes.js';
import { EXIT_CODES } from '../exit-codes.js';
import { sharedHelp } from './help-screen.js';
import { SHARED_GROUPS } from '../shared-options.js';
import { wrapped } from './wrapped.js';

export interface HelpTopic {
  readonly name: string;
  readonly summary: string;
  readonly text: () => string;
}

/** `pegbook help TOPIC`. Tables come from the code they describe. */
export const HELP_TOPICS: readonly HelpTopic[] = [
  ...SHARED_GROUPS.map(({ topic, title, options }) => ({
    name: topic,
    summary: `options that many commands share: ${title.toLowerCase()}`,
    text: () => `${title}\n${sharedHelp(options)}`,
  })),
  { name: 'columns', summary: 'the columns of fixes, points, control, checks and plans', text: columnsText },
  { name: 'units', summary: 'units, signs, angles, times and the three heights', text: unitsText },
  { name: 'exit-codes', summary: 'what each exit code means', text: exitCodesText },
  { name: 'environment', summary: 'the environment variables that are looked at', text: environmentText },
  { name: 'problem-codes', summary: 'every problem code, its meaning and what mends it', text: problemCodesText },
];

function columnsText(): string {
  return `FIXES, the input of reduce-points: one row an epoch, or one an averaged point
${columnLines(FIX_COLUMNS, readWords)}

POINTS, the output of reduce-points: one row an occupation; then the input's other columns
${columnLines(pointColumns(['easting_m', 'northing_m']), writtenWords)}

CONTROL AND DESIGN may have these columns too
${columnLines(POINT_FILE_COLUMNS.beside, readWords)}

OCCUPATIONS of a log
${columnLines(OCCUPATION_COLUMNS, readWords)}

EPOCHS, what reduce-points --epochs writes: one row an epoch
${columnLines(EPOCH_COLUMNS, writtenWords)}

POINTS CARRIED OVER, the output of transform: what the target has of these; then the input's other columns
${columnLines(everyArrivedColumn(['easting_m', 'northing_m']), writtenWords)}

CHECKS, the output of check-tolerances: one row a comparison
${columnLines(checkColumns({ first: 'easting', second: 'northing', signs: [1, 1], metresPerUnit: 1 }), writtenWords)}

CHECKS under a standard of classes have these columns too, of the measured point
${columnLines(CLASS_COLUMNS, writtenWords)}

CANDIDATES of plan-baseline may have these columns beside those of points
${columnLines(CANDIDATE_COLUMNS, readWords)}

PLAN, the output of plan-baseline: one row a place; then the input's other columns
${columnLines(allPlanColumns(), writtenWords)}

TIMETABLE of plan-baseline
${columnLines(TIMETABLE_COLUMNS, writtenWords)}

MASKS of plan-sky: the skyline of each site place by place
${columnLines(MASK_COLUMNS, readWords)}

SKY, the output of plan-sky: one row a point and instant
${columnLines(SKY_COLUMNS, writtenWords)}

SKY WINDOWS, what plan-sky --windows writes and plan-baseline --sky-windows reads
${columnLines(WINDOW_COLUMNS, writtenWords)}

The grid pair is named by the axes of the system: easting_m,northing_m, or
westing_m,southing_m where the system is south-orientated.
A column called just height, h or z is refused until --columns says which height.`;
}

/** Column of the text that says what a column holds, and the last one. */
const SAID_FROM = 24;
const WIDTH = 100;

/** One paragraph for columns that are described alike: their names, then what they hold. */
function columnLines(columns: readonly DescribedColumn[], words: (column: DescribedColumn) => string): string {
  return columnGroups(columns)
    .map(({ names, first }) => {
      const said = `${first.describe} (${words(first)}${first.isNeeded ? ', needed' : ''})`.replaceAll('`', '');
      const name = `  ${names.join(', ')}`;
      const text = wrapped(said, WIDTH - SAID_FROM).join(`\n${' '.repeat(SAID_FROM)}`);
      return name.length < SAID_FROM
        ? `${name.padEnd(SAID_FROM)}${text}`
        : `${wrapped(name.trim(), WIDTH - 2)
            .map((line) => `  ${line}`)
            .join('\n')}\n${' '.repeat(SAID_FROM)}${text}`;
    })
    .join('\n');
}

function unitsText(): string {
  return `Angles   decimal degrees, or degrees minutes seconds with one sign or one letter:
         25°43'55.302"S   -25:43:55.302   25 43 55.302 S
         North and east are positive. Azimuths run clockwise from true north.
         Convergence is positive where grid north is east of true north:
         grid bearing = azimuth - convergence.
Lengths  metres, unless the column's name says otherwise. A US survey foot is
         1200/3937 m, an international foot 0.3048 m; "ft" alone is refused.
Times    ISO 8601 in UTC, with Z.
Heights  h ellipsoidal, H orthometric, N geoid, and h = H + N.
Sigmas   one sigma per axis. Figures named 95 hold 95 % of errors under the model.
Empty    means unknown. It is never read as zero.`;
}

function exitCodesText(): string {
  return Object.values(EXIT_CODES)
    .map((entry) => `${String(entry.code).padStart(4)}  ${entry.meaning}`)
    .join('\n');
}

function environmentText(): string {
  return `NO_COLOR           when not empty: no colour in messages
FORCE_COLOR        when not empty and not 0: colour even where stderr is no terminal
TERM=dumb          no colour
SOURCE_DATE_EPOCH  seconds since 1970: the time written into run records and reports
Nothing in the environment changes a number.`;
}

function problemCodesText(): string {
  return Object.entries(PROBLEM_CODES)
    .map(([code, entry]) => `${code} (exit ${entry.exit})\n    ${entry.meaning}\n    fix: ${entry.fix}`)
    .join('\n');
}
