import type { CommandSpec } from '../../shell/command-spec.js';
import {
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  JOB_OPTION,
  REPORT_OPTION,
  SESSION_OPTION,
  SYSTEM_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook adjust-network` */
export const adjustNetworkSpec: CommandSpec = {
  name: 'adjust-network',
  summary: 'least-squares adjustment of everything together: vectors, occupations, levelling, distances and control',
  description: [
    'Adjusts occupations of any days from any bases, vectors between stations, levelled height differences and distances with',
    'the control, as one network. First it names parts that nothing ties; then it judges the observations in a network held by',
    'one station only; then the control against that network; then it computes coordinates. It says what checks each point, the',
    'blunder that could hide, and what that would do to the coordinates. Errors that observations share (base, set-up, geoid)',
    'are unknowns of their own.',
  ],
  arguments: [
    {
      name: '[points...]',
      description: 'points files of reduce-points, whose bases --session or --run-records describe',
    },
  ],
  options: [
    SYSTEM_OPTION,
    SESSION_OPTION,
    JOB_OPTION,
    ...GEOID_OPTIONS,
    {
      flags: '--run-records <files>',
      description:
        'run records of reduce-points, one for each points file, in their order, in place of a session: days with their own bases',
      kind: 'list',
    },
    {
      flags: '--vectors <file>',
      description:
        'vectors: CSV from_id, to_id, dx_m, dy_m, dz_m, six covariances cov_xx_m2 … cov_zz_m2 (or local sigmas), base_setup, day',
    },
    {
      flags: '--control <file>',
      description:
        'control: CSV point_id, a place (x_m, y_m, z_m; latitude and longitude; grid pair), a height, sigmas, held (fixed, weighted, plan, height)',
    },
    { flags: '--control-columns <map>', description: 'as --columns, for the control file', kind: 'list' },
    {
      flags: '--levelled <file>',
      description: 'levelled height differences: CSV from_id, to_id, orthometric_height_difference_m, sigma_m',
    },
    {
      flags: '--distances <file>',
      description:
        'distances: CSV from_id, to_id, slope_distance_m, sigma_m; instrument_height_m, target_height_m, zenith_deg; the air, where they are not corrected for it',
    },
    {
      flags: '--datum <kind>',
      description:
        'what holds the coordinates: all control, one station of each part, or the mean of the control of each part (inner)',
      choices: ['control', 'minimal', 'inner'],
      defaultText: 'control',
    },
    {
      flags: '--exclude-outliers',
      description: 'leave out observations, then control, that fail: one at a time, and in again where the rest agrees',
      kind: 'flag',
    },
    {
      flags: '--variance-factor <use>',
      description:
        'estimated: test against the variance the residuals show, and where that is larger than stated, uncertainties hold it',
      choices: ['none', 'estimated'],
      defaultText: 'none',
    },
    {
      flags: '--estimate <distortions>',
      description:
        'scale, rotations, zenith-delay: look for them in the vectors of each base, and keep as unknowns those that are significant',
      kind: 'list',
    },
    {
      flags: '--estimate-by <group>',
      description: 'what has a distortion in common: the vectors of a base, or those of a day',
      choices: ['base', 'day'],
      defaultText: 'base',
    },
    {
      flags: '--setup-sigma-horizontal <metres>',
      description: 'centring of a base set-up over its mark, one sigma per axis, for vectors that name set-up or day',
      kind: 'number',
      defaultText: 'of the session, else 0.0015',
    },
    {
      flags: '--setup-sigma-vertical <metres>',
      description: 'antenna height of a base set-up, one sigma, for vectors that name set-up or day',
      kind: 'number',
      defaultText: 'of the session, else 0.002',
    },
    {
      flags: '--geoid-tilt-sigma <metres>',
      description: 'slope of the error of the geoid, one sigma in each direction, metres a kilometre',
      kind: 'number',
      defaultText: '0.002',
    },
    {
      flags: '--observations <file>',
      isWritten: true,
      description: 'write every observation with its residuals and tests (CSV)',
    },
    {
      flags: '--shapes <file>',
      isWritten: true,
      description: 'write observations as lines and 95 % ellipses (of --pairs too) as areas for a map (GeoJSON)',
    },
    {
      flags: '--ellipse-scale <factor>',
      description: 'how many times larger than the ground --shapes draws ellipses',
      kind: 'number',
      defaultText: '1000',
    },
    {
      flags: '--covariances <file>',
      isWritten: true,
      description:
        'write the covariance blocks of the stations, and those between the points of --pairs, as JSON lines',
    },
    {
      flags: '--pairs <file>',
      description: 'relative accuracy of pairs: CSV from_id, to_id; said on standard error, and in JSON',
    },
    {
      flags: '--explain <point>',
      description: 'print the working of this point: equations, weights, normals, tests, ellipse; every number',
    },
    REPORT_OPTION,
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'thirteen vectors between six stations, two of them control',
      command:
        'pegbook adjust-network --vectors examples/quillback-pan-network/vectors.csv --control examples/quillback-pan-network/control.csv',
    },
    {
      about: 'what checks one point, and what a blunder that hides would do to it',
      command:
        'pegbook adjust-network --vectors examples/quillback-pan-network/vectors.csv --control examples/quillback-pan-network/control.csv --explain QN-4',
    },
  ],
  cautions: [
    'A point that nothing checks says so: one blunder in its only observation goes into the coordinate whole and unseen.',
    'Residuals show no error that all observations share, such as a wrong frame or epoch of the control.',
  ],
  load: async () => {
    const [{ runAdjustNetwork }, job] = await Promise.all([import('./run.js'), import('../../inputs/run-with-job.js')]);
    return job.withJob(runAdjustNetwork, [job.CONTROL_OF_JOB]);
  },
};
