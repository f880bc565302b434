import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  JOB_OPTION,
  MANIFEST_OPTIONS,
  OUTPUT_OPTIONS,
  REPORT_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
  VARIANCE_FACTOR_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook reduce-points` */
export const reducePointsSpec: CommandSpec = {
  name: 'reduce-points',
  summary: 'a day of raw fixes to grid coordinates, heights and their uncertainty',
  description: [
    'Carries each fix from the antenna to the pole tip, puts a wrong base coordinate right, refuses epochs that miss',
    'the limits with a reason for each, averages each occupation robustly, and writes grid coordinates, heights,',
    'factors and a 95 % uncertainty that respects how slowly such errors change.',
  ],
  arguments: [{ name: '[fixes...]', description: 'CSV, GeoJSON or NMEA 0183 files; - is standard input' }],
  options: [
    SESSION_OPTION,
    JOB_OPTION,
    SYSTEM_OPTION,
    {
      flags: '--fixes-system <system>',
      description: 'geographic system of the fixes (default: the base of the grid system)',
    },
    ...GEOID_OPTIONS,
    {
      flags: '--pole-length <metres>',
      description: 'reference point to pole tip, where a row does not say',
      kind: 'number',
    },
    {
      flags: '--phase-centre-offset <metres>',
      description:
        'antenna reference point to phase centre along the pole, where positions are of the phase centre; 0 says that they are one',
      kind: 'number',
    },
    {
      flags: '--reference-point <place>',
      description: 'what positions belong to, where a row does not say',
      choices: ['apc', 'arp', 'tip'],
    },
    {
      flags: '--accept-base-shift',
      description: 'reduce although a base is known a kilometre or more, or the geoid height, from what it broadcast',
      kind: 'flag',
    },
    {
      flags: '--input <kind>',
      description: 'kind of the inputs (default: by extension .nmea, .geojson, .json, else csv)',
      choices: ['csv', 'nmea', 'geojson'],
    },
    {
      flags: '--occupations <file>',
      description:
        'names for logs without them: CSV point_id,from_utc,to_utc[,pole_length_m]; one without epochs is a point rejected',
    },
    {
      flags: '--talker <id>',
      description: 'read the positions of this talker only in logs that hold those of several, such as GN',
    },
    {
      flags: '--combine',
      description: 'join repeat occupations of a point by their covariance, after the repeat test',
      kind: 'flag',
    },
    VARIANCE_FACTOR_OPTION,
    { flags: '--epochs <file>', isWritten: true, description: 'write every epoch with its verdict and reasons (CSV)' },
    {
      flags: '--explain <point>',
      description: "print one point's reduction step by step: POINT, POINT@OCCUPATION or of a job POINT@DAY/OCCUPATION",
    },
    {
      flags: '--navigation <files...>',
      description:
        'navigation files or almanacs of the day: what the sky was over occupations for review or rejected, for --sky and --report',
      kind: 'list',
    },
    {
      flags: '--sky <file>',
      isWritten: true,
      description: 'with --navigation: write satellites and PDOP at both ends of each such occupation there',
    },
    {
      flags: '--masks <file>',
      description:
        'with --navigation: what hides the sky, CSV: point_id, azimuth_deg, elevation_deg, for points and bases',
    },
    REPORT_OPTION,
    {
      flags: '--workers <n>',
      description: 'threads that reduce parts of one large CSV file; the output is the same for any number',
      kind: 'count',
      defaultText: '2 for a file of 32 MiB or more where processors and memory allow, else 1',
    },
    {
      flags: '--rows <range>',
      description: 'reduce only the occupations that begin in rows A:B of one CSV file (from 1; A: and :B are open)',
    },
    {
      flags: '--omit-header',
      description: 'no header in CSV output, for parts that are put one after another',
      kind: 'flag',
    },
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
    ...MANIFEST_OPTIONS,
  ],
  examples: [
    {
      about: 'the invented day, every refused epoch listed',
      command:
        'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml -o points.csv --epochs epochs.csv',
      exit: 1,
    },
    {
      about: 'one point worked through step by step',
      command:
        'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml --explain QP-04',
      exit: 1,
    },
  ],
  cautions: [
    'A tight scatter is not accuracy. Check on control that does not depend on the base, before and after.',
    'Boundary and cadastral work is reserved to licensed persons in most countries; local rules come first.',
    'Do not set out structures, drainage or flood levels from unchecked results of a single base.',
  ],
  load: async () => (await import('./run.js')).runReducePoints,
};
