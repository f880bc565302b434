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

/** `pegbook plan-baseline` */
export const planBaselineSpec: CommandSpec = {
  name: 'plan-baseline',
  summary: 'where the base goes, what each point will be worth, how long to stay, what the data costs',
  description: [
    'Predicts every point from an openly stated error model, says whether it meets its tolerance and what would have to',
    'change, and finds the place for a base: the best free one (without --base and --candidates), the best of the',
    'candidates, the best K, or the fewest that serve every point. Lines and areas of a GeoJSON file are served whole.',
  ],
  arguments: [{ name: '[points]', description: 'CSV or GeoJSON; - is standard input' }],
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
      flags: '--base <place>',
      description: 'the base stands there: LAT,LON or LAT,LON,H in degrees and metres above the ellipsoid',
    },
    {
      flags: '--candidates <file>',
      description: 'places a base could stand: point_id, position, and cellular, sky_score, cost where known',
    },
    {
      flags: '--find-bases <k>',
      description: 'the best K bases among the candidates; 1 without candidates is the best free place',
      kind: 'count',
    },
    { flags: '--fewest', description: 'the fewest candidates that serve every point', kind: 'flag' },
    { flags: '--need-cellular', description: 'leave out candidates not known to have a mobile network', kind: 'flag' },
    {
      flags: '--min-sky-score <n>',
      description: 'leave out candidates whose sky_score is lower or not known',
      kind: 'number',
    },
    { flags: '--max-cost <n>', description: 'leave out candidates whose cost is higher or not known', kind: 'number' },
    {
      flags: '--tie-percent <n>',
      description: 'candidates closer than this to the best count as equal, and sky, cost and name decide',
      kind: 'number',
      defaultText: '1',
    },
    {
      flags: '--limit-horizontal <metres>',
      description: '95 % limit in plan, where a point has none of its own',
      kind: 'number',
    },
    {
      flags: '--limit-vertical <metres>',
      description: '95 % limit in height, where a point has none of its own',
      kind: 'number',
    },
    {
      flags: '--conditions <state>',
      description: 'ionosphere that verdicts are judged by',
      choices: ['quiet', 'normal', 'active'],
      defaultText: 'normal',
    },
    {
      flags: '--instrument-horizontal <mm,ppm>',
      description: "an instrument's constant and ppm in place of the model's horizontal terms",
    },
    { flags: '--instrument-vertical <mm,ppm>', description: 'the same in height' },
    {
      flags: '--instrument-combine <how>',
      description: 'constant and ppm by root of squares, or as a sum',
      choices: ['rss', 'linear'],
      defaultText: 'rss',
    },
    {
      flags: '--instrument-figure <what>',
      description: 'what those figures are: one sigma per axis, DRMS, or at 95 percent',
      choices: ['per-axis', 'drms', '95'],
      defaultText: 'per-axis',
    },
    { flags: '--pole-length <metres>', description: 'reference point to pole tip', kind: 'number' },
    {
      flags: '--base-sigma <metres>',
      description:
        "one sigma of the base coordinate, H or H,V; default: the largest of the session's bases, else left out",
    },
    {
      flags: '--base-error <metres>',
      description: 'show what a base coordinate wrong by this much would do at each point',
      kind: 'number',
    },
    {
      flags: '--occupation-epochs <n>',
      description: 'epochs in a planned occupation, one a second',
      kind: 'count',
      defaultText: '1',
    },
    {
      flags: '--separation <minutes>',
      description: 'between occupations of a point (default: 30, 60 or 120 by baseline length)',
      kind: 'number',
    },
    { flags: '--max-epochs <n>', description: 'longest occupation worth planning', kind: 'count', defaultText: '1800' },
    { flags: '--max-occupations <n>', description: 'most occupations of a point', kind: 'count', defaultText: '4' },
    {
      flags: '--spacing <metres>',
      description: 'distance between the points put on lines and in areas',
      kind: 'number',
    },
    {
      flags: '--coverage <file>',
      isWritten: true,
      description: 'write rings of usable range, bases, points and baselines there (GeoJSON)',
    },
    { flags: '--explain <point>', description: 'print the prediction of one point term by term' },
    {
      flags: '--stream <kind>',
      description: 'size of the correction stream',
      choices: ['msm4', 'msm5', 'msm6', 'msm7'],
    },
    {
      flags: '--stream-from <file>',
      description: 'size of the correction stream as a recording of it shows (RTCM 3), in place of --stream',
    },
    {
      flags: '--satellites <list>',
      description: 'satellites x signals of each constellation',
      defaultText: 'gps=10x3,glonass=8x2,galileo=9x3,beidou=14x3',
    },
    {
      flags: '--rate <hertz>',
      description: 'observation epochs a second in the stream',
      kind: 'number',
      defaultText: '1',
    },
    { flags: '--rovers <n>', description: 'rovers that take the stream', kind: 'count', defaultText: '1' },
    { flags: '--hours <h>', description: 'planned hours of work', kind: 'number', defaultText: '8' },
    { flags: '--start-utc <time>', description: 'start of the work, such as 2026-03-04T06:00:00Z' },
    { flags: '--month <n>', description: 'month of the work, 1 to 12, where no start is given', kind: 'count' },
    {
      flags: '--timetable <file>',
      isWritten: true,
      description: 'write the day there (CSV); needs --start-utc and --speed; --hours then ends it',
    },
    {
      flags: '--days <n>',
      description: 'days of --hours at most, each at the hour of --start-utc: what does not fit goes on to the next',
      kind: 'count',
      defaultText: '1',
    },
    { flags: '--speed <km/h>', description: 'average driving speed', kind: 'number' },
    {
      flags: '--detour <factor>',
      description: 'road length over straight distance',
      kind: 'number',
      defaultText: '1.3',
    },
    { flags: '--setup-minutes <n>', description: 'setting up the base', kind: 'number', defaultText: '30' },
    {
      flags: '--overhead-minutes <n>',
      description: 'at each point beside the occupation itself',
      kind: 'number',
      defaultText: '3',
    },
    {
      flags: '--sky-windows <file>',
      description: 'for the timetable: occupy points only within these windows, as plan-sky --windows writes them',
    },
    { flags: '--control <file>', description: 'control points that do not depend on the base, for the timetable' },
    REPORT_OPTION,
    ACCEPT_POSITION_OPTION,
    POSITION_OPTION,
    ...OUTPUT_OPTIONS,
    ...INPUT_OPTIONS,
  ],
  examples: [
    {
      about: 'an invented job: the best of five candidates for a road and its points, and its stream',
      command:
        'pegbook plan-baseline examples/quillback-pan-plan/work.geojson --candidates examples/quillback-pan-plan/candidates.csv --need-cellular --system EPSG:2049 --limit-horizontal 0.05 --limit-vertical 0.10 --pole-length 2 --base-sigma 0.01,0.02 --spacing 2000 --stream msm7 -o plan.csv',
      exit: 1,
    },
    {
      about: 'one prediction worked through term by term',
      command:
        'pegbook plan-baseline examples/quillback-pan-plan/points.csv --system EPSG:2049 --base -31.5,21.4,1040 --limit-horizontal 0.05 --limit-vertical 0.08 --explain PL-05',
      exit: 1,
    },
  ],
  cautions: [
    'The conditions quiet, normal and active are planning assumptions, not measurements and not a specification.',
    'The range at which a solution fixes is not the range at which it meets a tolerance.',
    'A prediction proves nothing: measure control that does not depend on the base, before, during and after the work.',
  ],
  load: async () => (await import('./run.js')).runPlanBaseline,
};
