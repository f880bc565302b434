import { HEIGHT_TRENDS } from '../../../core/heights/height-trend.js';
import { SIGNAL_KINDS } from '../../../core/heights/signal-covariance.js';
import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  REPORT_OPTION,
  JOB_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook fit-site` */
export const fitSiteSpec: CommandSpec = {
  name: 'fit-site',
  summary: 'fit a site to its control: similarity in plan; shift, plane or surface in height, with tests',
  description: [
    'Fits measured points to control marked fit by least squares, with weights from the sigmas of both sides, and reports',
    'control marked check apart. Scale and rotation are compared with what the grid would make of them. With -o site.json the',
    'site is written for transform --site; CSV and GeoJSON hold the residuals instead.',
  ],
  arguments: [{ name: '<points>', description: 'measured points: CSV or GeoJSON; - is standard input' }],
  options: [
    {
      flags: '--control <file>',
      description: 'control of the site: point_id, its pair, a height, sigmas, and role fit, check or both',
    },
    SYSTEM_OPTION,
    SESSION_OPTION,
    JOB_OPTION,
    ...GEOID_OPTIONS,
    {
      flags: '--scale <scale>',
      description: 'free, grid (1), ground (1 / combined factor at the middle), or a number',
      defaultText: 'free',
    },
    {
      flags: '--vertical <kind>',
      description: 'inclined plane over the measured heights, one shift, a surface of trend and signal, or none',
      choices: ['plane', 'shift', 'surface', 'none'],
      defaultText: 'plane, or none where the control has no heights',
    },
    {
      flags: '--trend <trend>',
      description: 'of a surface: what its heights follow as a whole',
      choices: HEIGHT_TRENDS,
      defaultText: 'the one that predicts benchmarks left out best, by F-test',
    },
    {
      flags: '--signal <kind>',
      description: 'of a surface: how the covariance of what the trend leaves falls with distance',
      choices: SIGNAL_KINDS,
      defaultText: 'exponential',
    },
    {
      flags: '--signal-sigma <metres>',
      description: 'of a surface: one sigma of the signal',
      kind: 'number',
      defaultText: 'estimated from 15 benchmarks or more, else 0.015',
    },
    {
      flags: '--signal-length <metres>',
      description: 'of a surface: the length over which the signal correlates',
      kind: 'number',
      defaultText: 'estimated from 15 benchmarks or more, else 20000',
    },
    {
      flags: '--site-axes <pair>',
      description: "columns of the control's pair where they are not those of the system, such as easting_m,northing_m",
    },
    {
      flags: '--control-columns <map>',
      description: "our names for the control file's, NAME=HEADER,... as with --columns",
      kind: 'list',
    },
    {
      flags: '--buffer <metres>',
      description: 'how far outside its control the site may be used',
      kind: 'number',
      defaultText: "a tenth of the control's radius",
    },
    { flags: '--allow-poor-spread', description: 'go on where the control lies close to one line', kind: 'flag' },
    {
      flags: '--limit-horizontal <metres>',
      description: 'limit in plan of points kept out of the fit',
      kind: 'number',
    },
    { flags: '--limit-vertical <metres>', description: 'the same in height', kind: 'number' },
    {
      flags: '--explain <point>',
      description: 'work one control point through: place by the fit, row of the equations, weight, leverage, tests',
    },
    {
      flags: '--residuals <file>',
      isWritten: true,
      description: 'write the residuals there as CSV, beside the output',
    },
    {
      flags: '--transfers <file>',
      isWritten: true,
      description:
        'with a surface: write there, as CSV, heights carried between every two benchmarks and along levelled lines',
    },
    {
      flags: '--levelled <file>',
      description:
        'with a surface: levelled differences between measured points, as adjust-network reads them, to test it',
    },
    {
      flags: '--levelling-class <mm>',
      description: 'the class that heights carried are held against, millimetres for √km',
      kind: 'number',
      defaultText: '12',
    },
    REPORT_OPTION,
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'a surface of heights over 60 km, and how far it carries them',
      command:
        'pegbook fit-site examples/quillback-pan-heights/points.csv --control examples/quillback-pan-heights/benchmarks.csv --system EPSG:2049 --vertical surface --transfers transfers.csv -o surface.json',
    },
    {
      about: 'fit a site and keep it for transform --site',
      command:
        'pegbook fit-site examples/quillback-pan-site/points.csv --control examples/quillback-pan-site/control.csv --system EPSG:2049 --site-axes easting_m,northing_m -o site.json',
    },
    {
      about: 'residuals of a fit whose scale is that of the ground',
      command:
        'pegbook fit-site examples/quillback-pan-site/points.csv --control examples/quillback-pan-site/control.csv --system EPSG:2049 --site-axes easting_m,northing_m --scale ground',
    },
  ],
  cautions: [
    'A fit hides a wrong base, a wrong zone and another datum: settle what the statements name before using it.',
    'Outside its control nothing checks a site. Do not set out from extrapolated points.',
    'Heights for levels, drainage or floods need a tie to benchmarks around the whole site.',
  ],
  load: async () => {
    const [{ runFitSite }, job] = await Promise.all([import('./run.js'), import('../../inputs/run-with-job.js')]);
    return job.withJob(runFitSite, [job.CONTROL_OF_JOB]);
  },
};
