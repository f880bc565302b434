import type { CommandSpec } from '../../shell/command-spec.js';
import {
  ACCEPT_POSITION_OPTION,
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  REPORT_OPTION,
  JOB_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook join-points` */
export const joinPointsSpec: CommandSpec = {
  name: 'join-points',
  summary: 'distances, bearings, factors and height differences between points; polar points; areas',
  description: [
    'Joins points of one file: grid distance and bearing, azimuths both ways, convergence, arc-to-chord, line scale factor,',
    'ellipsoidal, ground and slope distance, and differences of both kinds of height. What needs a height stays empty where',
    'none is known. With a geographic --system lines and areas are those of the ellipsoid, and what belongs to a map is left out.',
    'Also the reverse, a point from a direction and a distance, and the areas of closed figures.',
  ],
  arguments: [{ name: '<points>', description: 'CSV or GeoJSON file of points; - is standard input' }],
  options: [
    SYSTEM_OPTION,
    SESSION_OPTION,
    JOB_OPTION,
    ...GEOID_OPTIONS,
    {
      flags: '--from <id>',
      description:
        'the point to start from; alone: lines to all others. ID@OCCUPATION where an id occurs more than once',
    },
    { flags: '--to <id>', description: 'the point to go to' },
    { flags: '--pairs <file>', description: 'lines to compute: CSV from_id,to_id' },
    {
      flags: '--consecutive',
      description: 'lines from each point to the next, in the order of the file',
      kind: 'flag',
    },
    {
      flags: '--polar <file>',
      description:
        'points to compute: CSV point_id, from_id, azimuth_deg or grid_bearing_deg, distance_m, distance_kind',
    },
    {
      flags: '--area <ids>',
      description: 'area of the closed figure with these corners, separated by commas; may be repeated',
      kind: 'list',
    },
    {
      flags: '--explain',
      description: 'work the lines through step by step, with formula, numbers and source',
      kind: 'flag',
    },
    {
      flags: '--angles <form>',
      description: 'how latitudes and longitudes are written',
      choices: ['degrees', 'dms'],
      defaultText: 'degrees',
    },
    ACCEPT_POSITION_OPTION,
    POSITION_OPTION,
    REPORT_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'one line worked through: scale, convergence, arc-to-chord, elevation',
      command:
        'pegbook join-points examples/quillback-pan-site/points.csv --system EPSG:2049 --from QS-1 --to QS-4 --explain',
    },
    {
      about: 'all lines from one point, directions in degrees, minutes and seconds',
      command: 'pegbook join-points examples/quillback-pan-site/points.csv --system EPSG:2049 --from QS-1 --angles dms',
    },
    {
      about: 'points from a direction and a distance',
      command:
        'pegbook join-points examples/quillback-pan-site/points.csv --system EPSG:2049 --polar examples/quillback-pan-site/polar.csv',
    },
    {
      about: 'the area of a closed figure on the grid, on the ellipsoid and on the ground',
      command:
        'pegbook join-points examples/quillback-pan-site/points.csv --system EPSG:2049 --area QS-1,QS-2,QS-3,QS-4',
    },
  ],
  cautions: [
    'Ground distances hold at the mean height of a line: one factor for a whole site is an approximation.',
    'Areas and bearings of boundaries are computations, not a legal survey.',
  ],
  load: async () => (await import('./run.js')).runJoinPoints,
};
