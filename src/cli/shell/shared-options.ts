import { GEOID_ENDINGS } from '../../io/grids/geoid-formats.js';
import { TEXT_ENCODINGS } from '../../io/text/text-encoding.js';
import type { OptionSpec } from './command-spec.js';

const OUTPUT_GROUP = 'Output and messages';
const TABLES_GROUP = 'Reading tables';
const MANIFEST_GROUP = 'Many runs of one file';
const SETTINGS_GROUP = 'Systems, session and geoid';

/** Where a run's data go, and whether they may take the place of others. */
const PLACE_OPTIONS: readonly OptionSpec[] = grouped(OUTPUT_GROUP, [
  { flags: '-o, --output <file>', isWritten: true, description: 'write the data there (- is standard output)' },
  { flags: '--force', description: 'overwrite an existing output', kind: 'flag' },
]);

/** What is written of a table, and how. */
const TABLE_OPTIONS: readonly OptionSpec[] = grouped(OUTPUT_GROUP, [
  {
    flags: '--format <kind>',
    description:
      'csv, geojson, json or jsonl (a row of JSON a line); default: from the extension of --output, where .parquet too is known, else csv',
    choices: ['csv', 'geojson', 'json', 'jsonl'],
  },
  {
    flags: '--select <names>',
    description:
      'of the table: these columns in this order (NAME,...); of one beside it, TABLE:NAME,..., as epochs:point_id,verdict',
    kind: 'list',
  },
  {
    flags: '--decimals <names>',
    description: 'of the table: fewer decimals (NAME=N,...; TABLE:NAME=N,...)',
    kind: 'list',
  },
  {
    flags: '--sort <names>',
    description:
      'of the table: rows by these columns, names as people order them; -NAME falls; TABLE:NAME,... Holds all rows in memory',
    kind: 'list',
  },
  {
    flags: '--for <readers>',
    description: 'people: coordinates of a CSV list to a tenth of their uncertainty; data: every digit',
    choices: ['data', 'people'],
    defaultText: 'data',
  },
  { flags: '--eol <kind>', description: 'line ends of CSV output', choices: ['lf', 'crlf'], defaultText: 'lf' },
  { flags: '--bom', description: 'start CSV output with a UTF-8 byte order mark', kind: 'flag' },
  {
    flags: '--spreadsheet-safe',
    description: 'put an apostrophe before text cells of CSV output that a spreadsheet would run as formulas',
    kind: 'flag',
  },
]);

/** What every run may be told: how far it reads, what it says, and what it leaves of itself. */
const RUN_OPTIONS: readonly OptionSpec[] = grouped(OUTPUT_GROUP, [
  {
    flags: '--confine <folder>',
    description:
      'read no file that does not lie below this folder, wherever it is named: for sessions and files from others',
  },
  { flags: '--problems <file>', isWritten: true, description: 'write every problem there as JSON lines' },
  {
    flags: '--fail-on <answer>',
    description: 'which answer ends with 1: no, or review as well',
    choices: ['no', 'review'],
    defaultText: 'no',
  },
  {
    flags: '--record <file>',
    isWritten: true,
    description: 'write the run record (JSON): settings, inputs and grids with hashes, counts, verdict',
  },
  { flags: '-q, --quiet', description: 'say nothing but errors', kind: 'flag' },
  { flags: '-v, --verbose', description: 'say where each setting came from', kind: 'flag' },
  { flags: '--no-color', description: 'no colour in messages', kind: 'flag' },
  { flags: '--no-progress', description: 'no progress line on a terminal', kind: 'flag' },
]);

/** Output, messages and records: every command that writes a table has them, with the same meaning. */
export const OUTPUT_OPTIONS: readonly OptionSpec[] = [...PLACE_OPTIONS, ...TABLE_OPTIONS, ...RUN_OPTIONS];

/** Those of them that hold where what is written is no table. */
export const DOCUMENT_OPTIONS: readonly OptionSpec[] = [...PLACE_OPTIONS, ...RUN_OPTIONS];

/** The file of a job, in place of --session. */
export const JOB_OPTION: OptionSpec = {
  flags: '--job <file>',
  description: 'job file (TOML): days with their fixes and sessions, exclusions, renames, control',
};

/** What a bad row, or a bad record, ends. */
export const ON_ERROR_OPTION: OptionSpec = {
  flags: '--on-error <what>',
  description: 'stop (check all, write nothing) or skip (write what is good)',
  choices: ['stop', 'skip'],
  defaultText: 'stop',
  group: TABLES_GROUP,
};

/** For whoever wants to know what a run would take before it is run. */
export const CHECK_ONLY_OPTION: OptionSpec = {
  flags: '--check-only',
  description: 'read and check every input and setting, print what is in force as JSON, and write nothing',
  kind: 'flag',
  group: TABLES_GROUP,
};

/** How a table is read. Nothing is guessed. */
export const INPUT_OPTIONS: readonly OptionSpec[] = grouped(TABLES_GROUP, [
  CHECK_ONLY_OPTION,
  {
    flags: '-c, --columns <map>',
    description: "our names for the file's: NAME=HEADER,... (positions from 1 with --no-header)",
    kind: 'list',
  },
  { flags: '--no-header', description: 'the file has no header row; map columns by position', kind: 'flag' },
  { flags: '-d, --delimiter <text>', description: 'field delimiter; tab may be written \\t', defaultText: ',' },
  { flags: '--decimal-comma', description: 'numbers are written with a decimal comma', kind: 'flag' },
  {
    flags: '--encoding <name>',
    description: 'utf-8, utf-16le, utf-16be, windows-1252 or iso-8859-1',
    choices: TEXT_ENCODINGS,
    defaultText: 'utf-8, or by byte order mark',
  },
  { flags: '--skip-lines <n>', description: 'lines before the header', kind: 'count' },
  { flags: '--comment <prefix>', description: 'ignore lines that start with this' },
  ON_ERROR_OPTION,
  {
    flags: '--rejects <file>',
    isWritten: true,
    description: 'with --on-error skip: write the bad rows there verbatim, with line and code',
  },
]);

/** Many runs, one a line of a file; read by `runManifest`. */
export const MANIFEST_OPTIONS: readonly OptionSpec[] = grouped(MANIFEST_GROUP, [
  {
    flags: '--manifest <file>',
    description:
      'CSV with a row a run: inputs and options by name, output and record always; what is done already is not run again',
  },
  {
    flags: '--index <n>',
    description:
      'of the manifest, run the entry of this number alone, counted from 1; without it all, one after another',
    kind: 'count',
  },
  { flags: '--count', description: 'of the manifest, print how many entries it has, and run none', kind: 'flag' },
  {
    flags: '--status',
    description:
      'of the manifest, run none and say which entries are done, failed, changed since or not run (--output, --format), with the sum of all (--record)',
    kind: 'flag',
  },
]);

/** For places that look exchanged, in feet or without a constant. */
export const ACCEPT_POSITION_OPTION: OptionSpec = {
  flags: '--accept-position',
  description:
    'take positions as they stand that look exchanged, of another sign, in feet or without a constant (the guess is a warning then)',
  kind: 'flag',
  group: SETTINGS_GROUP,
};

/** The coordinate system of grid values. */
export const SYSTEM_OPTION: OptionSpec = {
  flags: '--system <system>',
  description: 'system of grid coordinates: EPSG:n or a PROJ string',
  group: SETTINGS_GROUP,
};

/** Which of two positions of one row counts; read by `tableOptions`. */
export const POSITION_OPTION: OptionSpec = {
  flags: '--position-from <which>',
  description:
    'grid or geographic: the position that counts where a row has both; default: both, and rows where they differ are refused',
  choices: ['grid', 'geographic'],
  group: SETTINGS_GROUP,
};

/** The geoid; read by `geoidOptions`. */
export const GEOID_OPTIONS: readonly OptionSpec[] = grouped(SETTINGS_GROUP, [
  {
    flags: '--geoid <model>',
    description: `egm96 (built in, decimetre class) or a grid file ${GEOID_ENDINGS.join(' ')}`,
  },
  {
    flags: '--geoid-interpolation <kind>',
    description: 'between the nodes of the geoid grid, as its publisher says',
    choices: ['bilinear', 'biquadratic', 'bicubic'],
    defaultText: 'bilinear',
  },
  {
    flags: '--geoid-frame <system>',
    description: 'take the geoid grid to be given in this frame, EPSG:n, where its own word does not fit',
  },
  {
    flags: '--grid-nodes <count>',
    description: 'nodes that a compressed grid file (.tif) may unpack to',
    kind: 'count',
    defaultText: '64000000',
  },
]);

export const SESSION_OPTION: OptionSpec = {
  flags: '-s, --session <file>',
  description: 'session file (TOML): systems, bases, pole, limits, precision',
  group: SETTINGS_GROUP,
};

export const VARIANCE_FACTOR_OPTION: OptionSpec = {
  flags: '--variance-factor <use>',
  description:
    'estimated: where repeats (in a check, control too) show the day noisier than the planning model, uncertainties hold the factor that they show',
  choices: ['none', 'estimated'],
  defaultText: 'none',
};

export const REPORT_OPTION: OptionSpec = {
  flags: '--report <file>',
  isWritten: true,
  description: 'write a self-contained HTML page for people',
};

/** Options that many commands share, by the help topic that prints them once. */
export interface SharedGroup {
  readonly topic: string;
  readonly title: string;
  readonly options: readonly OptionSpec[];
}

/** Every shared option, once. A command need not have all of a group; its own help says which. */
export const SHARED_GROUPS: readonly SharedGroup[] = [
  {
    topic: 'settings',
    title: SETTINGS_GROUP,
    options: [SESSION_OPTION, SYSTEM_OPTION, ...GEOID_OPTIONS, POSITION_OPTION, ACCEPT_POSITION_OPTION],
  },
  { topic: 'output', title: OUTPUT_GROUP, options: OUTPUT_OPTIONS },
  { topic: 'tables', title: TABLES_GROUP, options: INPUT_OPTIONS },
  { topic: 'manifest', title: MANIFEST_GROUP, options: MANIFEST_OPTIONS },
];

function grouped(group: string, options: readonly OptionSpec[]): readonly OptionSpec[] {
  return options.map((option) => ({ ...option, group }));
}
