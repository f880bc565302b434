import { DEFAULT_PLATE_MODEL, PLATE_MODEL_KEYS } from '../../../core/frames/plates/plate-models.js';
import { CHAIN_PLATE_MODEL } from '../../../core/frames/realisations/realisation-chain.js';
import { PLATE_NAMES } from '../../../core/frames/plates/plate-pole.js';
import type { CommandSpec } from '../../shell/command-spec.js';
import {
  ACCEPT_POSITION_OPTION,
  GEOID_OPTIONS,
  INPUT_OPTIONS,
  JOB_OPTION,
  MANIFEST_OPTIONS,
  OUTPUT_OPTIONS,
  POSITION_OPTION,
  REPORT_OPTION,
} from '../../shell/shared-options.js';

/** `pegbook transform` */
export const transformSpec: CommandSpec = {
  name: 'transform',
  summary: 'points to another datum, projection, epoch or kind of height, or from grid to ground',
  description: [
    'Carries points from the system they are in to another. A change of datum is never made silently: it is named by',
    '--shift FILE or --operation EPSG:n, or follows from --epoch between an ITRF and a national frame of the table, or the run',
    'ends with the list of operations that would fit. What was used stands in the run record with its stated accuracy. Other',
    'columns pass through; figures of trust (sigmas, 95 % figures, verdicts) do not where an operation moved the points.',
  ],
  arguments: [{ name: '<points>', description: 'CSV or GeoJSON file; - is standard input' }],
  options: [
    {
      flags: '--from <system>',
      description: 'system the points are in: EPSG:n or a PROJ string; projected, geographic or geocentric',
    },
    JOB_OPTION,
    { flags: '--to <system>', description: 'system they go to (default: that of --from)' },
    {
      flags: '--operation <codes>',
      description:
        'the published operation between the two datums: EPSG:n, or two with a comma for a way through a third',
    },
    {
      flags: '--shift <file>',
      description: 'the operation as a shift file (TOML), or as a grid of shifts of any kind (.gsb, .tif)',
    },
    {
      flags: '--accept-default-shift',
      description: 'use the shift that the definitions of the systems carry, of no stated accuracy',
      kind: 'flag',
    },
    {
      flags: '--site <file>',
      description:
        'onto a site fitted by fit-site, from the system of --from (default: that of the site); with --inverse off it, to that of --to',
    },
    {
      flags: '--extrapolate',
      description: 'with --site: go on outside its control, with the growing sigma beside each point',
      kind: 'flag',
    },
    {
      flags: '--inverse',
      description:
        'apply the shift file, the grid of shifts, the ground scale, the topocentric origin or the site backwards; --from is always what the file is in',
      kind: 'flag',
    },
    {
      flags: '--epoch <year>',
      description:
        'epoch of the coordinates, decimal year, for shifts that change with time; alone, between an ITRF and a national frame, it takes the chain of that frame',
      kind: 'number',
    },
    { flags: '--epoch-from <year>', description: 'move the points in time: epoch they are at', kind: 'number' },
    {
      flags: '--epoch-to <year>',
      description: 'move the points in time: epoch they go to, before any shift',
      kind: 'number',
    },
    {
      flags: '--plate <name>',
      description: 'move them with this plate of a plate motion model; with --epoch, in the chain to a national frame',
      suggests: PLATE_NAMES,
    },
    {
      flags: '--plate-model <model>',
      description:
        'the model of the plate: that of ITRF2014; of ITRF2020 with its origin rate bias, level, as its authors advise; or its rotation alone',
      choices: PLATE_MODEL_KEYS,
      defaultText: `${DEFAULT_PLATE_MODEL}; ${CHAIN_PLATE_MODEL} in a chain`,
    },
    { flags: '--velocity <vx,vy,vz>', description: 'move them with this geocentric velocity, metres a year' },
    {
      flags: '--velocity-grid <file>',
      description:
        'move them with the velocities of this geodetic TIFF (east, north, up), given in the frame of --from',
    },
    {
      flags: '--from-height <kind>',
      description: 'which height of the file counts',
      choices: ['ellipsoidal', 'orthometric'],
      defaultText: 'those that are there, unchanged in kind',
    },
    {
      flags: '--to-height <kind>',
      description: 'which height is wanted; a change of kind needs --geoid',
      choices: ['ellipsoidal', 'orthometric'],
    },
    ...GEOID_OPTIONS,
    {
      flags: '--ground-at <lat,lon,h>',
      description: 'grid to ground: scale about this place by its combined factor (ellipsoidal height)',
    },
    {
      flags: '--ground-tolerance <metres>',
      description: 'refuse one ground scale where the spread of the factor over the job exceeds this',
      kind: 'number',
    },
    {
      flags: '--topocentric-at <lat,lon,h>',
      description:
        'east, north and up about this origin in the frame of --to (with --inverse, of --from); xyz:X,Y,Z for a geocentric origin',
    },
    ACCEPT_POSITION_OPTION,
    { flags: '--explain <point>', description: 'work one point through every step, with its coordinates between them' },
    {
      flags: '--angles <form>',
      description: 'how latitudes and longitudes are written',
      choices: ['degrees', 'dms'],
      defaultText: 'degrees',
    },
    POSITION_OPTION,
    REPORT_OPTION,
    {
      flags: '--workers <n>',
      description: 'threads that carry parts of one large CSV file; the output is the same for any number',
      kind: 'count',
      defaultText: '2 for a file of 32 MiB or more where processors and memory allow, else 1',
    },
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
    ...MANIFEST_OPTIONS,
  ],
  examples: [
    {
      about: 'the control of the invented day in latitude and longitude of the same datum',
      command: 'pegbook transform examples/quillback-pan/control.csv --from EPSG:2049 --to EPSG:4148 --angles dms',
    },
    {
      about: 'to a zone of another datum: the operation is named, and its accuracy said',
      command:
        'pegbook transform examples/quillback-pan/control.csv --from EPSG:2049 --to EPSG:32734 --operation EPSG:1505 -o utm.csv',
    },
    {
      about: 'onto a site fitted before: its own coordinates and heights, with what the fit adds to their uncertainty',
      command: 'pegbook transform examples/quillback-pan-site/work.csv --site examples/quillback-pan-site/site.json',
    },
    {
      about: 'from the site to latitude and longitude of its datum, in one run',
      command:
        'pegbook transform examples/quillback-pan-site/on-site.csv --site examples/quillback-pan-site/site.json --inverse --to EPSG:4148',
    },
    {
      about:
        'from a national frame to ITRF2020 of the day by the chain of that frame; the other way is a base from a global service',
      command: 'pegbook transform examples/quillback-pan/control.csv --from EPSG:2049 --to EPSG:9990 --epoch 2026.9',
    },
    {
      about: 'without a name for the change of datum: refused, with what would fit',
      command: 'pegbook transform examples/quillback-pan/control.csv --from EPSG:2049 --to EPSG:4222',
      exit: 2,
    },
  ],
  cautions: [
    'The accuracy of a change of datum is that of the published operation: often metres. Boundaries need local control.',
    'Ground coordinates look like grid coordinates: their columns are named ground_..., and they hold for one job only.',
    'Heights for levels, drainage or floods need a tie to benchmarks, whatever geoid is used.',
  ],
  load: async () => {
    const [{ runTransform }, job] = await Promise.all([import('./run.js'), import('../../inputs/run-with-job.js')]);
    return job.withJob(runTransform, [job.SYSTEM_OF_JOB, job.GEOID_OF_JOB]);
  },
};
